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
		above := scene.NoPart // the upper one before the last
		for _, p := range g.Parts {
			if !fig.study.isBone(p) {
				continue
			}
			switch pl := fig.labels[p].Place; {
			case pl == Upper:
				above, l.Upper = l.Upper, p // the last one: the upper arm below a shoulder
			case pl == Lower && l.Lower == scene.NoPart:
				l.Lower = p
			case pl == End && l.End == scene.NoPart:
				l.End = p
			}
		}
		if l.Lower == scene.NoPart && fig.study.likeBones(above, l.Upper, l.End) {
			// Both are called an arm, by words before it that are not known.
			l.Upper, l.Lower = above, l.Upper
		}
		if l.Upper != scene.NoPart && l.Lower != scene.NoPart && l.End != scene.NoPart &&
			fig.study.IsAncestor(l.Upper, l.Lower) && fig.study.IsAncestor(l.Lower, l.End) {
			out = append(out, l)
		}
	}
	return out
}

// likeBones reports whether three parts below each other are two bones of about
// the same length, which a shoulder and an arm are not.
func (s *Study) likeBones(upper, lower, end scene.PartID) bool {
	if upper == scene.NoPart || lower == scene.NoPart || end == scene.NoPart || !s.IsAncestor(upper, lower) || !s.IsAncestor(lower, end) {
		return false
	}
	a, b := length(s.relatives(upper, lower)[0].Origin()), length(s.relatives(lower, end)[0].Origin())
	return min(a, b) > 0.6*max(a, b)
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
// sizes, relative to what carries the figure: a person's centre of mass, and of
// other bodies the mean of the torso and limb joints, without fingers and face.
func (fig *Figure) Centre(a, b int) []r3.Vec {
	s := fig.study
	joints, masses := fig.jointMasses()
	out := make([]r3.Vec, b-a)
	if len(joints) == 0 {
		return out
	}
	need := joints
	if fig.Carrier != scene.NoPart {
		need = append(need[:len(need):len(need)], fig.Carrier)
	}
	v := s.newSolver(need, b-a)
	for at := a; at < b; at += blockFrames {
		n := min(blockFrames, b-at)
		v.block(at, n)
		for f := range n {
			sum := r3.Vec{}
			for i, p := range joints {
				o := v.worlds[p][f].Origin()
				sum = r3.Add(sum, r3.Scale(masses[i], o))
			}
			c := sum
			if fig.Carrier != scene.NoPart {
				inv := v.worlds[fig.Carrier][f].Inverse()
				c = inv.Point(c)
			}
			out[at-a+f] = r3.Scale(1/fig.carriedUnit(), c)
		}
	}
	return out
}

// bodyJoints are the joints of torso and limbs. What carries the whole body without
// ever moving, a group at the origin, is no joint of it.
func (fig *Figure) bodyJoints() []scene.PartID {
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
	carries := func(p scene.PartID, rest []scene.PartID) bool {
		for _, q := range rest {
			if !s.IsAncestor(p, q) {
				return false
			}
		}
		return true
	}
	for len(joints) > 1 && fig.staysPut(joints[0]) && carries(joints[0], joints[1:]) {
		joints = joints[1:]
	}
	return joints
}

// staysPut reports whether a part is in one place in the world all the time.
func (fig *Figure) staysPut(p scene.PartID) bool {
	s := fig.study
	at := s.WorldPosition(p, s.First)
	for k := 1; k <= 8; k++ {
		if distance(at, s.WorldPosition(p, s.Frame(k*(s.N-1)/8))) > 1e-9*fig.Size {
			return false
		}
	}
	return true
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

// MirrorGap returns at every frame how far the left part's way from its place at
// the first frame is from the mirror image of the right one's, in figure sizes,
// seen from the lowest part that bears both (a chest that turns breaks no
// mirror). The mirror is the plane half-way between the two at the first frame,
// turned by up to a few degrees to where the ways agree best: few rigs are quite
// symmetric. It also returns the paths of both seen from there, and how far apart
// the mirror leaves their places at the first frame.
func (fig *Figure) MirrorGap(p MirrorPair) (gap []float64, left, right []r3.Vec, apart float64) {
	left, right = fig.seenFromBearer(p)
	gap = make([]float64, len(left))
	if len(left) == 0 {
		return gap, left, right, 0
	}
	between := r3.Sub(left[0], right[0])
	if length(between) == 0 {
		return gap, left, right, 0
	}
	normal := mirrorNormal(left, right, r3.Unit(between))
	for i := range gap {
		gap[i] = mirrorMiss(left, right, normal, i)
	}
	return gap, left, right, length(r3.Sub(between, r3.Scale(r3.Dot(between, normal), normal)))
}

// seenFromBearer returns the paths of both parts in figure sizes.
func (fig *Figure) seenFromBearer(p MirrorPair) (left, right []r3.Vec) {
	s := fig.study
	base := fig.bearer(p)
	left, right = make([]r3.Vec, s.N), make([]r3.Vec, s.N)
	v := s.newSolver([]scene.PartID{p.Left, p.Right, base}, s.N)
	for a := 0; a < s.N; a += blockFrames {
		n := min(blockFrames, s.N-a)
		v.block(a, n)
		for f := range n {
			inv := v.worlds[base][f].Inverse()
			scale := v.worlds[base][f].Scale() / fig.Size
			left[a+f] = r3.Scale(scale, inv.Point(v.worlds[p.Left][f].Origin()))
			right[a+f] = r3.Scale(scale, inv.Point(v.worlds[p.Right][f].Origin()))
		}
	}
	return left, right
}

// mirrorMiss is how far the ways to frame i are from mirror images.
func mirrorMiss(left, right []r3.Vec, normal r3.Vec, i int) float64 {
	l, r := r3.Sub(left[i], left[0]), r3.Sub(right[i], right[0])
	return length(r3.Sub(l, r3.Sub(r, r3.Scale(2*r3.Dot(r, normal), normal))))
}

// mirrorNormal turns a mirror's normal in ever smaller steps, 3 degrees first,
// as long as that brings the ways nearer to mirror images.
func mirrorNormal(left, right []r3.Vec, normal r3.Vec) r3.Vec {
	step := max(1, len(left)/mirrorSamples)
	miss := func(n r3.Vec) (sum float64) {
		for i := 0; i < len(left); i += step {
			sum += mirrorMiss(left, right, n, i)
		}
		return sum
	}
	best := miss(normal)
	for _, by := range []float64{0.052, 0.026, 0.013, 0.0065, 0.003} {
		u := r3.Unit(r3.Cross(normal, r3.Vec{X: normal.Y, Y: normal.Z, Z: -normal.X}))
		w := r3.Cross(normal, u)
		for _, d := range []r3.Vec{u, w, r3.Scale(-1, u), r3.Scale(-1, w)} {
			if n := r3.Unit(r3.Add(normal, r3.Scale(by, d))); miss(n) < best {
				normal, best = n, miss(n)
			}
		}
	}
	return normal
}

// mirrorSamples is how many frames of a clip tell the mirror.
const mirrorSamples = 100

// bearer is the lowest part of the figure above both parts of the pair.
func (fig *Figure) bearer(p MirrorPair) scene.PartID {
	s := fig.study
	for q := s.Scene.Parts[p.Left].Parent; q != scene.NoPart && fig.has(q); q = s.Scene.Parts[q].Parent {
		if s.IsAncestor(q, p.Right) {
			return q
		}
	}
	return fig.Root
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
