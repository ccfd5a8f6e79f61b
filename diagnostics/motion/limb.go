package motion

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/parse/scene"
)

// TwoBone is a limb of two bones: thigh and shin, or upper arm and forearm.
type TwoBone struct {
	Name  string // "left leg"
	Label Label
	// Upper turns at the hip or shoulder, Lower at the knee or elbow; End is
	// the ankle or wrist.
	Upper, Lower, End scene.PartID
}

// Limbs returns the figure's two-bone limbs.
func (fig *Figure) Limbs() []TwoBone {
	var out []TwoBone
	for _, g := range fig.Groups {
		b := g.Label.Body
		if b != Leg && b != Arm {
			continue
		}
		l := TwoBone{Name: g.Name, Label: g.Label, Upper: scene.NoPart, Lower: scene.NoPart, End: scene.NoPart}
		for _, p := range g.Parts {
			if !fig.study.isBone(p) {
				continue
			}
			switch pl := fig.labels[p].Place; {
			case pl == Upper:
				l.Upper = p // the last one: the upper arm below a shoulder
			case pl == Lower && l.Lower == scene.NoPart:
				l.Lower = p
			case pl == End && l.End == scene.NoPart:
				l.End = p
			}
		}
		if l.Upper != scene.NoPart && l.Lower != scene.NoPart && l.End != scene.NoPart &&
			fig.study.IsAncestor(l.Upper, l.Lower) && fig.study.IsAncestor(l.Lower, l.End) {
			out = append(out, l)
		}
	}
	return out
}

// Flexion is how a two-bone limb bends over the frames of the study.
type Flexion struct {
	// Angle is the angle in degrees between the bones: 0 for a straight limb.
	Angle []float64
	// Extension is the straight distance from the limb's root to its end over
	// the length of both bones: 1 for a straight limb.
	Extension []float64
	// Side is the cosine between the axis of the bend and the limb's usual one:
	// near 1 as a rule, near -1 when it bends backward; 0 when it is straight.
	Side []float64
}

// Flex measures the bend of a limb at every frame, seen from its upper bone.
func (s *Study) Flex(l TwoBone) Flexion {
	f := Flexion{make([]float64, s.N), make([]float64, s.N), make([]float64, s.N)}
	axes := make([]r3.Vec, s.N)
	usual := r3.Vec{}
	lower, end := s.relatives(l.Upper, l.Lower), s.relatives(l.Lower, l.End)
	for i := range f.Angle {
		a := lower[i].Origin()
		b := lower[i].Vector(end[i].Origin())
		na, nb := length(a), length(b)
		f.Angle[i] = Angle(a, b)
		if na+nb > 0 {
			f.Extension[i] = length(r3.Add(a, b)) / (na + nb)
		}
		axes[i] = r3.Cross(a, b)
		if na*nb > 0 {
			axes[i] = r3.Scale(1/(na*nb), axes[i])
		}
		usual = r3.Add(usual, axes[i])
	}
	for i, x := range axes {
		if n := length(x) * length(usual); n > 0 {
			f.Side[i] = r3.Dot(x, usual) / n
		}
	}
	return f
}

// relatives evaluates the transform from a part's frame up to an ancestor's at
// every frame.
func (s *Study) relatives(ancestor, p scene.PartID) []Affine {
	out := s.Locals(p, 0, s.N)
	for q := s.Scene.Parts[p].Parent; q != ancestor && q != scene.NoPart; q = s.Scene.Parts[q].Parent {
		up := s.Locals(q, 0, s.N)
		for i := range out {
			out[i] = up[i].Mul(&out[i])
		}
	}
	return out
}

// Centre returns the body's centre at the frame indices a to b-1 in figure
// sizes, relative to what carries the figure: the mean of its torso and limb
// joints, without fingers and face.
func (fig *Figure) Centre(a, b int) []r3.Vec {
	s := fig.study
	var joints []scene.PartID
	for _, p := range fig.Parts {
		switch fig.labels[p].Body {
		case Hips, Chest, Neck, Head, Arm, Leg:
			if s.isBone(p) {
				joints = append(joints, p)
			}
		}
	}
	out := make([]r3.Vec, b-a)
	if len(joints) == 0 {
		return out
	}
	need := joints
	if fig.Carrier != scene.NoPart {
		need = append(need[:len(need):len(need)], fig.Carrier)
	}
	v := s.newSolver(need)
	for at := a; at < b; at += blockFrames {
		n := min(blockFrames, b-at)
		v.block(at, n)
		for f := range n {
			sum := r3.Vec{}
			for _, p := range joints {
				o := v.worlds[p][f].Origin()
				sum = r3.Add(sum, o)
			}
			c := r3.Scale(1/float64(len(joints)), sum)
			if fig.Carrier != scene.NoPart {
				inv := v.worlds[fig.Carrier][f].Inverse()
				c = inv.Point(c)
			}
			out[at-a+f] = r3.Scale(1/fig.carriedUnit(), c)
		}
	}
	return out
}

// carriedUnit is the length of a figure size in the space of carried tracks.
func (fig *Figure) carriedUnit() float64 {
	if fig.Carrier == scene.NoPart {
		return fig.Size
	}
	m := fig.study.WorldAt(fig.Carrier, fig.study.First)
	if k := m.Scale(); k > 0 {
		return fig.Size / k
	}
	return fig.Size
}

// MirrorPair is a left and a right part that correspond.
type MirrorPair struct{ Left, Right scene.PartID }

// MirrorPairs returns the pairs of arm and leg joints of the two sides: same
// body part, same place.
func (fig *Figure) MirrorPairs() []MirrorPair {
	var out []MirrorPair
	limbs := fig.Limbs()
	for _, l := range limbs {
		for _, r := range limbs {
			if l.Label.Side == Left && r.Label.Side == Right && l.Label.Body == r.Label.Body && l.Label.Pair == r.Label.Pair {
				out = append(out, MirrorPair{l.Lower, r.Lower}, MirrorPair{l.End, r.End})
			}
		}
	}
	return out
}

// MirrorGap returns at every frame how far the left part is from the mirror
// image of the right one, in figure sizes, seen from the figure's root: the
// mirror is the plane half-way between the two at the first frame. It also
// returns the paths of both seen from the root.
func (fig *Figure) MirrorGap(p MirrorPair) (gap []float64, left, right []r3.Vec) {
	s := fig.study
	k := 1 / fig.Size
	gap = make([]float64, s.N)
	left, right = make([]r3.Vec, s.N), make([]r3.Vec, s.N)
	v := s.newSolver([]scene.PartID{p.Left, p.Right, fig.Root})
	var normal r3.Vec
	offset := 0.0
	for a := 0; a < s.N; a += blockFrames {
		n := min(blockFrames, s.N-a)
		v.block(a, n)
		for f := range n {
			inv := v.worlds[fig.Root][f].Inverse()
			scale := v.worlds[fig.Root][f].Scale() * k
			l, r := inv.Point(v.worlds[p.Left][f].Origin()), inv.Point(v.worlds[p.Right][f].Origin())
			l, r = r3.Scale(scale, l), r3.Scale(scale, r)
			i := a + f
			left[i], right[i] = l, r
			if i == 0 {
				if d := r3.Sub(l, r); length(d) > 0 {
					normal = r3.Scale(1/length(d), d)
					offset = r3.Dot(r3.Scale(0.5, r3.Add(l, r)), normal)
				}
			}
			m := r3.Sub(r, r3.Scale(2*(r3.Dot(r, normal)-offset), normal))
			gap[i] = distance(l, m)
		}
	}
	return gap, left, right
}

// Parabola fits x(t) = a + b t + c t^2 to equally spaced samples, t in samples,
// by least squares, and returns c and the largest residual. It needs at least
// three samples.
func Parabola(x []float64) (c, worst float64) {
	n := float64(len(x))
	if n < 3 {
		return 0, 0
	}
	// Orthogonal polynomials on t = -h..h: 1, t, t^2 - mean.
	h := (n - 1) / 2
	var s0, s1, s2, tt, qq float64
	m := (n*n - 1) / 12
	for i, v := range x {
		t := float64(i) - h
		q := t*t - m
		s0 += v
		s1 += v * t
		s2 += v * q
		tt += t * t
		qq += q * q
	}
	b := s1 / tt
	c = s2 / qq
	for i, v := range x {
		t := float64(i) - h
		worst = max(worst, math.Abs(v-(s0/n+b*t+c*(t*t-m))))
	}
	return c, worst
}
