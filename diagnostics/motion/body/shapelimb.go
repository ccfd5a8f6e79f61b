package body

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion/vec"
	"curvelint/parse/scene"
)

// poses are the moments at which a figure's stance is looked at: its rest and
// some frames of the clip.
func (s *shape) poses() []map[scene.PartID]r3.Vec {
	if s.known == nil {
		const frames = 5
		s.known = append(s.known, s.rest)
		for k := range frames {
			s.known = append(s.known, s.fig.positionsAt(s.fig.cast.Frame(k*max(s.fig.cast.N-1, 0)/(frames-1))))
		}
	}
	return s.known
}

// travel is the direction in which the figure goes, seen in the frame of its
// rest, or zero when it stays where it is: the mean over the clip of the way
// of its root between two moments.
func (s *shape) travel() r3.Vec {
	cast := s.fig.cast
	const moments = 8
	var sum r3.Vec
	way := 0.0
	for k := range moments {
		i, j := k*max(cast.N-1, 0)/moments, (k+1)*max(cast.N-1, 0)/moments
		a, b := cast.WorldAt(s.fig.Root, cast.Frame(i)), cast.WorldAt(s.fig.Root, cast.Frame(j))
		d := s.level(r3.Sub(b.Origin(), a.Origin()))
		inv := a.Inverse()
		sum = r3.Add(sum, inv.Vector(d))
		way += vec.Length(d)
	}
	rest := cast.WorldAt(s.fig.Root, cast.First)
	sum = s.level(rest.Vector(sum))
	if way < s.fig.Size || vec.Length(sum) < 0.5*way {
		return r3.Vec{}
	}
	return r3.Scale(1/vec.Length(sum), sum)
}

// stance is how a pair of limbs stands in the mean of the poses.
type stance struct {
	// hang is how far the ends are below the root of the limb, in its reach,
	// and over how high they are over the lowest part, in the figure's height.
	hang, over float64
}

func (s *shape) stanceOf(l limbPair) stance {
	var out stance
	n := 0.0
	for _, at := range s.poses() {
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, p := range s.fig.Parts {
			if s.fig.cast.isBone(p) {
				h := r3.Dot(at[p], s.up)
				lo, hi = min(lo, h), max(hi, h)
			}
		}
		for i, c := range l.parts {
			h := r3.Dot(at[l.ends[i]], s.up)
			if hi > lo && s.reach[c] > 0 {
				out.over += (h - lo) / (hi - lo)
				out.hang += (r3.Dot(at[c], s.up) - h) / s.reach[c]
				n++
			}
		}
	}
	if n > 0 {
		out.hang, out.over = out.hang/n, out.over/n
	}
	return out
}

// lying reports whether the trunk lies rather than stands: a bird, a beast.
func (s *shape) lying() bool {
	from := s.fig.Root
	if len(s.limbs) > 0 {
		from = s.line[s.limbs[0].at]
	}
	to := s.line[min(s.head, len(s.line)-1)]
	upright, n := 0.0, 0.0
	for _, at := range s.poses() {
		d := r3.Sub(at[to], at[from])
		if k := vec.Length(d); k > 0 {
			upright += r3.Dot(d, s.up) / k
			n++
		}
	}
	return n > 0 && upright/n < 0.7
}

// nameLimbs says of each pair of limbs what it is: legs hang to the floor; what
// does not is wings on a trunk that lies, arms on one that stands.
func (s *shape) nameLimbs() {
	upper := Arm
	if s.lying() {
		upper = Wing
	}
	var legs []int
	for i := range s.limbs {
		l := &s.limbs[i]
		for k, c := range l.parts {
			chain := s.chainFrom(c)
			l.ends[k] = chain[len(chain)-1]
		}
		l.label.Body = upper
		if st := s.stanceOf(*l); st.hang >= 0.5 && st.over <= 0.2 {
			l.label.Body = Leg
			legs = append(legs, i)
		}
	}
	if len(legs) == 0 && len(s.limbs) > 1 && upper == Arm {
		s.limbs[0].label.Body = Leg // who sits on the ground has legs first
	}
	if len(legs) > 1 {
		for _, i := range legs {
			s.limbs[i].label.Pair = 'h'
		}
		s.limbs[legs[len(legs)-1]].label.Pair = 'f'
	}
	// Of several pairs that are no legs the longest are the arms.
	long := -1
	for i, l := range s.limbs {
		if l.label.Body == upper && (long < 0 || s.reach[l.parts[0]] > s.reach[s.limbs[long].parts[0]]) {
			long = i
		}
	}
	s.limbs = slices.DeleteFunc(s.limbs, func(l limbPair) bool {
		return l.label.Body == upper && l.parts != s.limbs[long].parts
	})
}

// orderSides tells left from right of the limbs and of their order in the pair.
func (s *shape) orderSides() {
	left := r3.Cross(s.up, s.forward())
	if vec.Length(left) == 0 {
		return
	}
	for i := range s.limbs {
		l := &s.limbs[i]
		if r3.Dot(r3.Sub(s.rest[s.sideOf(l, 0)], s.rest[s.sideOf(l, 1)]), left) < 0 {
			l.parts[0], l.parts[1] = l.parts[1], l.parts[0]
			l.ends[0], l.ends[1] = l.ends[1], l.ends[0]
		}
	}
}

// sideOf is the part of a limb that shows its side: the first away from the
// line.
func (s *shape) sideOf(l *limbPair, k int) scene.PartID {
	return s.firstAway(s.line[l.at], l.parts[k])
}

// forward is the level direction the figure faces at rest: along a trunk that
// lies, else from ankles to toes, else where the head's front is, else the way
// it travels; zero when nothing tells.
func (s *shape) forward() r3.Vec {
	to := s.line[min(s.head, len(s.line)-1)]
	if s.lying() && len(s.limbs) > 0 {
		if from := s.line[s.limbs[0].at]; from != to {
			return s.level(r3.Sub(s.rest[to], s.rest[from]))
		}
	}
	var d r3.Vec
	for _, l := range s.limbs {
		if l.label.Body == Leg {
			for k := range l.parts {
				chain := s.chainFrom(l.parts[k])
				if at := s.hinge(chain, Leg); at+2 < len(chain) {
					d = r3.Add(d, r3.Sub(s.rest[chain[len(chain)-1]], s.rest[chain[at+2]]))
				}
			}
		}
	}
	if d = s.level(d); vec.Length(d) > 0.02*s.fig.Size {
		return d
	}
	s.below(to, func(p scene.PartID) { d = r3.Add(d, r3.Sub(s.rest[p], s.rest[to])) })
	if d = s.level(d); vec.Length(d) > 0.02*s.fig.Size {
		return d
	}
	return s.travel()
}

// hinge is the index in a limb's chain of its upper bone: of the two
// neighbouring bones that are longest together, or within a tenth of it the
// first ones of a leg (the third bone of a beast's hind leg is long) and the
// last ones of an arm (a collar bone may be).
func (s *shape) hinge(chain []scene.PartID, b Body) int {
	bone := func(i int) float64 { return vec.Distance(s.rest[chain[i]], s.rest[chain[i+1]]) }
	sum := func(i int) float64 {
		if x, y := bone(i), bone(i+1); min(x, y) >= 0.4*max(x, y) {
			return x + y
		}
		return 0
	}
	longest := 0.0
	for i := 0; i+2 < len(chain); i++ {
		longest = max(longest, sum(i))
	}
	at := -1
	for i := 0; i+2 < len(chain); i++ {
		if sum(i) >= 0.9*longest && (at < 0 || b == Arm) {
			at = i
		}
	}
	return max(at, 0)
}

// labelLimbs labels a pair of limbs and the places along them.
func (s *shape) labelLimbs(l limbPair) {
	for k, c := range l.parts {
		m := l.label
		m.Side = [...]Side{Left, Right}[k]
		s.below(c, func(p scene.PartID) { s.set(p, m) })
		if m.Body == Leg || m.Body == Arm {
			s.placeLimb(s.chainFrom(c), m)
		}
	}
}

// placeLimb names the joints of a limb: the two long bones turn at the hip and
// knee, or shoulder and elbow; beyond the ankle are toes and heel, beyond the
// hand fingers.
func (s *shape) placeLimb(chain []scene.PartID, l Label) {
	at := s.hinge(chain, l.Body)
	place := func(p scene.PartID, where Place) {
		m := l
		m.Place = where
		s.set(p, m)
	}
	for i, p := range chain {
		switch {
		case i < at:
			place(p, Root)
		case i == at:
			place(p, Upper)
		case i == at+1:
			place(p, Lower)
		case i == at+2 || l.Body == Arm:
			place(p, End)
		default:
			place(p, Toe)
		}
		if i < at+2 {
			continue
		}
		if l.Body == Arm && len(s.bones[p]) > 1 {
			m := l
			m.Body, m.Place = Fingers, NoPlace
			for _, c := range s.bones[p] {
				s.below(c, func(q scene.PartID) { s.set(q, m) })
			}
			return
		}
		if l.Body == Leg && i == at+2 {
			for _, c := range s.bones[p] {
				if i+1 < len(chain) && c != chain[i+1] && len(s.bones[c]) == 0 {
					place(c, Heel)
				}
			}
		}
	}
}
