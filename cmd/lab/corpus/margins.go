package corpus

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/cmd/lab/designed"
	"curvelint/cmd/lab/designed/write"
)

// margins plant flaws that are just, or just not, what their checks note: m, from
// 0 to 1, leads from one side of a threshold to the other. Labelled cases that pin
// a setting are looked for among them; they are no part of the score.
var margins = map[string][]func(s *stage, m float64){
	"even-spacing":     {marginWeight},
	"flat-arc":         {marginFlat, marginShortReach},
	"frozen-hold":      {marginFrozenEnd},
	"jitter":           {marginJitter},
	"late-arc":         {marginLate},
	"lockstep":         {marginStiff, marginUnalike},
	"loop-seam":        {marginSeam},
	"loose-settle":     {marginSettle},
	"masked-change":    {marginSmallChange, marginCrossing},
	"pivot-arc":        {marginPivotBend, marginPivotAxis, marginPivotSmall},
	"pop":              {marginWeightPop, marginQuickPop},
	"rushed-read":      {marginRushed},
	"same-frame":       {marginPair},
	"spline-overshoot": {marginOvershoot},
	"split-attention":  {marginSplit},
	"twinned-pose":     {marginTwinned},
	"crowded-beat":     {marginCrowded},
}

// MakeMargin makes a scene near a threshold of a check; there is an error for a
// check without one.
func MakeMargin(form Form, check string, seed int) (Case, error) {
	list := margins[check]
	if len(list) == 0 {
		return Case{}, fmt.Errorf("nothing leads to a threshold of %q", check)
	}
	r := designed.Seed(uint64(seed)*2654435761 + 11)
	plant := list[r.Int(len(list))]
	m := r.Float()
	return makeBy(form, check, seed, true, func(s *stage, _ bool) { plant(s, m) })
}

// blend is a number from lo to hi by m.
func blend(lo, hi, m float64) float64 { return lo + (hi-lo)*m }

// marginWeight lets a weight change evenly by a share of what it does in the clip.
func marginWeight(s *stage, m float64) {
	s.stiff = true
	s.shapedFace()
	s.live(0, 0)
	part := s.lips[0]
	s.ease(part, designed.X, minJerk, 0.6, 0.6, 0.5*fullWeight)
	from, dur := 2.2, s.seed.Between(0.3, 0.9)
	s.ease(part, designed.X, designed.Trapezoid(0.06), from, dur, -blend(0.04, 0.4, m)*fullWeight)
	s.plant("even-spacing", from, from+dur, part)
}

// marginFlat moves a limb's end in a slight arc.
func marginFlat(s *stage, m float64) {
	r := s.reacher(true)
	from, dur := s.seed.Between(1, 2), s.seed.Between(0.35, 0.8)
	s.trace(r, bend(0, 1, blend(0, 16, m)), r.size*s.seed.Between(0.13, 0.19), false, designed.Stroke(minJerk, from, from+dur, 1))
	s.live(0, 0)
	s.plant("flat-arc", from, from+dur, r.parts[0], r.parts[1:]...)
}

// marginShortReach moves it straight over a short way.
func marginShortReach(s *stage, m float64) {
	r := s.reacher(true)
	from, dur := s.seed.Between(1, 2), s.seed.Between(0.35, 0.8)
	s.trace(r, bend(0, 1, 0), r.size*blend(0.05, 0.16, m), false, designed.Stroke(minJerk, from, from+dur, 1))
	s.live(0, 0)
	s.plant("flat-arc", from, from+dur, r.parts[0], r.parts[1:]...)
}

// marginFrozenEnd ends in a pose in which nothing moves.
func marginFrozenEnd(s *stage, m float64) {
	s.anyOf(unheld)
	from := seconds - blend(0.25, 0.95, m)
	s.acts(from-1.2, 0.65)
	s.live(from-0.05, seconds+1)
	also := append([]int{s.root}, s.trunk...)
	s.plant("frozen-hold", from, seconds, s.root, append(also, s.tail...)...)
}

// marginJitter shakes a part by more and more.
func marginJitter(s *stage, m float64) {
	s.anyOf([]castKind{(*stage).biped, withQuadruped, (*stage).tailAlone})
	s.live(0, 0)
	from, dur := s.seed.Between(0.8, 1.2), s.seed.Between(0.7, 1)
	part := s.mobile()
	s.Ease(part, designed.X, gated(designed.Wave(blend(3, 14, m), 1/s.seed.Between(3.2, 4), 0), from, from+dur))
	s.plant("jitter", from, from+dur, part)
}

// marginLate leaves all the curve of a short arc to its end.
func marginLate(s *stage, m float64) {
	r := s.reacher(false)
	from, dur := s.seed.Between(1, 2), s.seed.Between(0.5, 0.9)
	s.trace(r, bend(0.77, 1, s.seed.Between(75, 115)), r.size*blend(0.05, 0.15, m), false, designed.Stroke(minJerk, from, from+dur, 1))
	s.live(0, 0)
	s.plant("late-arc", from, from+dur, r.parts[0], r.parts[1:]...)
}

// marginStiff swings a tail whose links turn a little of their own.
func marginStiff(s *stage, m float64) {
	s.stiff = true
	s.anyOf(withTail)
	s.live(0, 0)
	at, dur := 1.0, s.seed.Between(0.5, 0.7)
	size := s.seed.Between(26, 40)
	s.ease(s.tail[0], s.tailAxis, minJerk, at, dur, size)
	for _, link := range s.tail[1:] {
		s.ease(link, s.tailAxis, minJerk, at, dur, blend(0, 0.06, m)*size)
	}
	s.ease(s.tail[0], s.tailAxis, minJerk, at+2.2, dur, -size)
	s.drag(at+2.2, dur, -size)
	s.plant("lockstep", at, at+dur, s.tail[1], s.tail...)
}

// marginUnalike swings a stiff tail while the body goes elsewhere.
func marginUnalike(s *stage, m float64) {
	s.stiff = true
	s.anyOf([]castKind{withQuadruped, (*stage).braided})
	s.live(0, 0)
	at, dur := 1.0, s.seed.Between(0.5, 0.7)
	size := s.seed.Between(26, 40)
	s.ease(s.tail[0], s.tailAxis, minJerk, at, dur, size)
	part := s.head
	if s.tailAxis == designed.Y {
		part = s.hips
	}
	s.Ease(part, s.tailAxis, designed.Swell(at+0.3*dur, at+dur, blend(0, 30, m)))
	s.ease(s.tail[0], s.tailAxis, minJerk, at+2.2, dur, -size)
	s.drag(at+2.2, dur, -size)
	s.plant("lockstep", at, at+dur, s.tail[1], s.tail...)
}

// marginSeam is a cycle that slows down a little at its end.
func marginSeam(s *stage, m float64) {
	s.config.Loop = true
	s.anyOf([]castKind{(*stage).tailAlone, (*stage).biped})
	turns, phase := 1+s.seed.Int(3), s.seed.Float()
	slow := 0.5 * m
	clock := func(t float64) float64 { return (1-slow)*t + slow*easedEnd(t, seconds) }
	parts := append(append([]int{}, s.soft...), s.tail...)
	for _, l := range s.limbs {
		parts = append(parts, l...)
	}
	for i, p := range parts {
		w := designed.Wave(9, seconds/float64(turns), -phase-0.08*float64(i))
		s.Ease(p, designed.Y, func(t float64) float64 { return w(clock(t)) })
	}
	s.plant("loop-seam", seconds-0.1, seconds, s.root, parts...)
}

// marginSettle lets a part swing for about as long as a settle may last.
func marginSettle(s *stage, m float64) {
	s.anyOf(everyone)
	s.live(0, 0)
	part, axis, change := s.mover()
	from, dur := 0.8, s.seed.Between(0.4, 0.6)
	half, ratio, n := blend(0.14, 0.32, m), s.seed.Between(0.6, 0.78), 6
	poses := []designed.Pose{{T: from, V: 0}}
	past, at := 0.2*change, from+dur
	for range n {
		poses = append(poses, designed.Pose{T: at, V: change + past})
		past *= -ratio
		at += half
	}
	poses = append(poses, designed.Pose{T: at, V: change})
	s.Ease(part, axis, designed.Through(designed.MinimumJerk, poses...))
	s.follow(part, from, dur, change)
	s.plant("loose-settle", from+dur, at, part)
}

// marginSmallChange changes the brows in a fast turn by a share of what they do
// elsewhere in the clip.
func marginSmallChange(s *stage, m float64) {
	s.anyOf(withFace)
	s.live(0, 0)
	at, dur := 2.6, 0.4
	for _, p := range s.brow {
		s.ease(p, designed.X, minJerk, 0.8, 0.4, -10)
		s.ease(p, designed.X, minJerk, at+0.25*dur, dur*0.5, blend(0.5, 6, m))
	}
	s.ease(s.head, designed.Y, minJerk, at, dur, 70*s.seed.Sign())
	s.plant("masked-change", at+0.25*dur, at+0.75*dur, s.brow[0], s.brow...)
}

// marginCrossing changes the brows while the head crosses the picture.
func marginCrossing(s *stage, m float64) {
	s.jointedFace()
	s.film(r3.Vec{}, s.seed.Between(90, 140))
	s.live(0, 0)
	at, dur := s.seed.Between(1.5, 2), 0.5
	s.Shift(s.root, designed.X, designed.Stroke(designed.Trapezoid(0.3), at, at+dur, s.k*blend(8, 60, m)*s.seed.Sign()))
	for _, p := range s.brow {
		s.ease(p, designed.X, minJerk, at+0.3*dur, dur*0.4, -10)
	}
	s.plant("masked-change", at+0.3*dur, at+0.7*dur, s.brow[0], s.brow...)
}

// marginPivotBend swings a chain whose inner joints turn a little.
func marginPivotBend(s *stage, m float64) { s.marginPivot(m*6, 0, 1) }

// marginPivotAxis swings it about two axes at once.
func marginPivotAxis(s *stage, m float64) { s.marginPivot(0, m*24, 1) }

// marginPivotSmall swings a small one.
func marginPivotSmall(s *stage, m float64) { s.marginPivot(0, 0, blend(0.35, 1, m)) }

// marginPivot swings a tail from its first joint, the others turned by bend, the
// first about another axis as well by tilt, its links of a share of their length.
func (s *stage) marginPivot(bend, tilt, long float64) {
	s.stiff = true
	s.anyOf([]castKind{(*stage).tailAlone, withQuadruped})
	s.live(0, 0)
	from, dur, change := s.seed.Between(0.8, 2), s.seed.Between(0.45, 0.8), s.seed.Between(60, 85)*s.seed.Sign()
	for _, p := range s.tail[1:] {
		s.Parts[p].Offset = r3.Scale(long, s.Parts[p].Offset)
		s.ease(p, designed.Y, minJerk, from, dur, bend)
	}
	s.ease(s.tail[0], designed.Y, minJerk, from, dur, change)
	s.Ease(s.tail[0], designed.X, designed.Arch(from, from+dur, tilt))
	s.plant("pivot-arc", from, from+dur, s.tail[0], s.tail...)
}

// marginWeightPop lets a weight jump for one frame by a share of its range.
func marginWeightPop(s *stage, m float64) {
	s.shapedFace()
	s.live(0, 0)
	part := s.lips[0]
	s.ease(part, designed.X, minJerk, 0.6, 0.6, 0.6*fullWeight)
	at := s.onFrame(2.4)
	s.Ease(part, designed.X, func(t float64) float64 {
		return -blend(0.03, 0.14, m) * fullWeight * math.Max(0, 1-math.Abs(t-at)*s.rate)
	})
	s.plant("pop", at, at, part)
}

// marginQuickPop shifts a body for good from one frame to the next, at a high rate.
func marginQuickPop(s *stage, m float64) {
	s.rate = 60
	s.anyOf([]castKind{withBird, (*stage).tailAlone})
	s.live(0, 0)
	at := s.onFrame(s.seed.Between(1, 1.5))
	part := s.root
	s.Jumps = append(s.Jumps, designed.Jump{Part: part, Axis: s.seed.Int(3), At: at, Size: s.k * blend(0.8, 4, m), Stays: true})
	s.plant("pop", at, at, part, append(append([]int{s.floats}, s.trunk...), s.tail...)...)
}

// marginRushed holds a small expression for a few frames.
func marginRushed(s *stage, m float64) {
	s.anyOf(withFace)
	s.live(0, 0)
	at, hold, dur := s.onFrame(2.6), s.onFrame(s.seed.Between(0.1, 0.2)), s.onFrame(0.25)
	small := blend(2, 9, m)
	for _, p := range s.brow {
		s.ease(p, designed.X, minJerk, 0.6, 0.5, -14)
		s.ease(p, designed.X, minJerk, at, dur, small)
		s.ease(p, designed.X, minJerk, at+dur+hold, dur, small)
	}
	s.plant("rushed-read", at+dur, at+dur+hold, s.brow[0], s.brow...)
}

// marginPair changes brows and lids together, the last time cut by the clip.
func marginPair(s *stage, m float64) {
	s.blink = false
	s.anyOf(withFace)
	s.live(0, 0)
	last := seconds - 0.2
	if m < 0.4 {
		last = seconds + 1
	}
	for i, at := range []float64{s.onFrame(2.5), s.onFrame(last)} {
		size := s.seed.Between(6, 10) * float64(1-2*i)
		dur := s.onFrame(s.seed.Between(0.2, 0.28) + 0.4*float64(i))
		for side := range 2 {
			s.ease(s.brow[side], designed.X, minJerk, at, dur, -size)
			s.ease(s.lid[side], designed.X, minJerk, at, dur, -0.8*size)
		}
	}
	s.plant("same-frame", 2.5, seconds, s.brow[0], s.brow[1], s.lid[0], s.lid[1])
}

// marginOvershoot keys a part with a slope left over that carries it just past.
func marginOvershoot(s *stage, m float64) {
	s.stiff = true
	s.formats = []writer{{".usda", write.USDASplines}, {".usda", write.USDAHermite}, {".dae", write.COLLADAKeyed}}
	s.anyOf([]castKind{(*stage).biped, withBird, (*stage).tailAlone})
	part, axis, change := s.mover()
	for _, p := range s.soft {
		if p != part {
			s.Ease(p, designed.X, designed.Drift(s.fork(), 0.8))
		}
	}
	f := s.onFrame
	a, b, c, d := f(0.5), f(1.2), f(2.2), f(3)
	keys := []designed.Key{{T: a}, {T: b, V: change, Slope: blend(0.02, 0.4, m) * change / (c - b)}, {T: c, V: change}, {T: d, V: 0.4 * change}}
	s.Ease(part, axis, designed.Keyed(keys...))
	s.Parts[part].Knots[axis] = []float64{a, b, c, d}
	s.follow(part, a, b-a, change)
	s.follow(part, c, d-c, -0.6*change)
	s.plant("spline-overshoot", b, c, part)
}

// marginSplit sweeps an arm while the face changes and the whole body moves.
func marginSplit(s *stage, m float64) {
	s.biped()
	s.film(r3.Vec{Y: 135}, s.seed.Between(80, 120))
	at, dur := s.seed.Between(1.6, 2.4), s.seed.Between(0.22, 0.32)
	side := s.seed.Int(2)
	s.live(0, 0)
	for i := range 2 {
		s.ease(s.Brow[i], designed.X, minJerk, at, dur, -10)
	}
	s.ease(s.Neck, designed.Z, minJerk, at-0.08, dur+0.2, blend(0, 34, m)*s.seed.Sign())
	s.ease(s.Upper[side], designed.X, minJerk, at-0.08, dur+0.2, -s.seed.Between(40, 60))
	s.plant("split-attention", at, at+dur, s.Upper[side], s.Fore[side], s.Hand[side], s.HandTip[side])
}

// marginTwinned moves both arms nearly alike.
func marginTwinned(s *stage, m float64) {
	s.bipedAlike()
	lift, bend := -s.seed.Between(30, 60), -s.seed.Between(25, 60)
	t1, t2 := 0.6, 2.4
	first, second := s.seed.Int(2) == 0, m
	for side := range 2 {
		k1, k2 := 1.0, 1.0
		if side == 1 && first { // a little apart all the time
			k1, k2 = 1-0.09*m, 1-0.09*m
		}
		long := 0.8
		if side == 1 && !first { // alike in the first move, not in the second
			k2, long = 0.3, 0.8
		}
		s.arm(side, t1, 0.4+1.2*second, lift*k1, bend*k1)
		s.arm(side, t2, long, -lift*k2*0.6, -bend*k2*0.5)
	}
	for _, p := range []int{s.Spine, s.Chest, s.Neck, s.Head} {
		s.Ease(p, designed.X, designed.Drift(s.fork(), 1))
	}
	s.plant("twinned-pose", t1, t2+0.8, s.Fore[0], s.Hand[0], s.Upper[0])
}

// marginCrowded lets all parts of a body peak within a little time, at a high rate.
func marginCrowded(s *stage, m float64) {
	s.rate = 48
	s.anyOf(bodies)
	s.live(0, 0)
	at := 1.0
	list := s.moves()
	for i, x := range list {
		mid := at + 0.3 + blend(0.02, 0.09, m)*float64(i)/float64(len(list))
		half := s.seed.Between(0.2, 0.4)
		s.ease(x.part, x.axis, minJerk, mid-half, 2*half, x.change)
	}
	s.plant("crowded-beat", at-0.1, at+0.8, list[0].part, parts(list)...)
}
