package corpus

import (
	"curvelint/cmd/lab/designed"
	"curvelint/cmd/lab/designed/write"
)

// spacingPlanters plant the flaws of spacing.
var spacingPlanters = map[string]planter{
	"even-spacing":     plantEven,
	"hitch":            plantHitch,
	"hard-start":       plantHardStart,
	"hard-stop":        plantHardStop,
	"no-anticipation":  plantDeadStart,
	"spline-overshoot": plantSplineOvershoot,
	"mixed-stepping":   plantStepped,
}

// eased is one of the profiles that ease at both ends.
func (s *stage) eased() designed.Profile {
	return []designed.Profile{minJerk, designed.HalfCosine, designed.Smooth}[s.seed.Int(3)]
}

// plantEven moves a part at one speed, or with a proper ease.
func plantEven(s *stage, flawed bool) {
	s.stiff = true
	s.anyOf(everyone)
	s.live(0, 0)
	from, dur := s.seed.Between(1, 3.5), s.seed.Between(0.45, 0.9)
	p := designed.Trapezoid(s.seed.Between(0.02, 0.12))
	if !flawed {
		p = s.eased()
	}
	part, axis, change := s.mover()
	s.ease(part, axis, p, from, dur, change)
	s.follow(part, from, dur, change)
	s.plant("even-spacing", from, from+dur, part)
}

// plantHitch lets a reach or a turn of the body stutter on the way.
func plantHitch(s *stage, flawed bool) {
	s.anyOf(withLimbs)
	s.live(0, 0)
	from, dur := s.seed.Between(1, 3.5), s.seed.Between(0.5, 0.65)
	p := minJerk
	mid := s.seed.Between(0.45, 0.55)
	if flawed {
		p = designed.Stuttered(minJerk, mid, 0.1, s.seed.Between(0.05, 0.2))
	}
	limb := s.limbs[s.seed.Int(len(s.limbs))]
	s.ease(limb[0], s.limbAxis, p, from, dur, -s.seed.Between(55, 80))
	at := from + mid*dur
	s.plant("hitch", at-0.08, at+0.08, limb[0], limb...)
}

// hardMove is a move with a profile of its own at one end, out of a hold and
// into one.
func (s *stage) hardMove(p designed.Profile, check string, flawed, start bool) {
	s.stiff = true
	s.anyOf(everyone)
	s.live(0, 0)
	from, dur := s.onFrame(s.seed.Between(1.2, 3.4)), s.onFrame(s.seed.Between(0.4, 0.6))
	if !flawed {
		p = s.eased()
	}
	part, axis, change := s.mover()
	if start {
		s.ease(part, axis, minJerk, from-0.3, 0.3, -0.12*change) // what it starts from is no dead start
		from = s.onFrame(from + s.seed.Between(0.28, 0.36))
	}
	s.ease(part, axis, p, from, dur, change)
	s.follow(part, from, dur, change)
	at := from + dur
	if start {
		at = from
	}
	s.plant(check, at-0.04, at+0.04, part)
}

func plantHardStart(s *stage, flawed bool) {
	// Fast at once, then slower and slower: the first spacing is the largest.
	s.hardMove(func(x float64) float64 { return 1 - (1-x)*(1-x)*(1-x) }, "hard-start", flawed, true)
}

func plantHardStop(s *stage, flawed bool) {
	s.hardMove(func(x float64) float64 { return x * x * x }, "hard-stop", flawed, false)
}

// plantDeadStart flings a limb from a hold, with a move the other way before it
// or without one.
func plantDeadStart(s *stage, flawed bool) {
	s.stiff = true
	s.anyOf(withLimbs)
	s.live(0, 0)
	limb := s.limbs[s.seed.Int(len(s.limbs))]
	from, dur := s.onFrame(s.seed.Between(1.6, 3.2)), s.seed.Between(0.22, 0.3)
	change := -s.seed.Between(55, 80)
	if !flawed {
		back := s.seed.Between(0.06, 0.15)
		s.ease(limb[0], s.limbAxis, minJerk, from-0.3, 0.28, -back*change)
	}
	fling := flung(s.seed.Between(1.4, 1.8) / 24 / dur)
	s.ease(limb[0], s.limbAxis, fling, from, dur, change)
	s.ease(limb[1], s.limbAxis, minJerk, from+0.05, dur*1.4, 0.3*change)
	s.plant("no-anticipation", from, from+dur, limb[0], limb...)
}

// flung is a profile that speeds up evenly for a share of its time and slows
// down in the rest: quick to its speed, slow out of it.
func flung(in float64) designed.Profile {
	v := 1 / (in/2 + (1-in)*2/3) // the speed with which it gets there
	return func(x float64) float64 {
		if x < in {
			return v * x * x / (2 * in)
		}
		u := (x - in) / (1 - in)
		return v*in/2 + v*(1-in)*(u-u*u*u/3)
	}
}

// plantStepped lets one part of a figure on ones go on twos for a while; the
// near miss is on twos altogether.
func plantStepped(s *stage, flawed bool) {
	s.rate = []float64{24, 25, 30}[s.seed.Int(3)]
	s.anyOf(bodies)
	s.live(0, 0)
	m := s.moves()
	from := s.onFrame(s.seed.Between(1, 1.6))
	to := from + s.seed.Between(1.2, 2)
	odd := s.seed.Int(len(m))
	for i, x := range m {
		for n := range 3 {
			s.ease(x.part, x.axis, minJerk, from-0.4+0.9*float64(n)+0.08*float64(i), 0.8, x.change*float64(1-2*(n%2)))
		}
	}
	if flawed {
		x := &s.Parts[m[odd].part]
		for axis := range 3 {
			x.Turn[axis] = patched(x.Turn[axis], s.stepped(x.Turn[axis]), from, to)
			x.Move[axis] = patched(x.Move[axis], s.stepped(x.Move[axis]), from, to)
		}
	} else if s.seed.Chance(0.5) {
		for i := range s.Parts {
			for axis := range 3 {
				s.Parts[i].Turn[axis] = s.stepped(s.Parts[i].Turn[axis])
				s.Parts[i].Move[axis] = s.stepped(s.Parts[i].Move[axis])
			}
		}
	}
	s.plant("mixed-stepping", from, to, m[odd].part)
}

// stepped holds a signal for two frames each.
func (s *stage) stepped(v designed.Signal) designed.Signal {
	if v == nil {
		return nil
	}
	return designed.Stepped(v, s.rate/2)
}

// patched is b between two times and else a.
func patched(a, b designed.Signal, from, to float64) designed.Signal {
	if a == nil {
		return nil
	}
	return func(t float64) float64 {
		if t >= from && t < to {
			return b(t)
		}
		return a(t)
	}
}

// plantSplineOvershoot keys a part that moves from one held pose to another, with a
// slope left over at the second that carries the curve past it, or with level
// tangents; or it keys the pose past it as well.
func plantSplineOvershoot(s *stage, flawed bool) {
	s.stiff = true
	s.formats = []writer{{".usda", write.USDASplines}, {".usda", write.USDAHermite}, {".dae", write.COLLADAKeyed}}
	s.anyOf([]castKind{(*stage).biped, (*stage).onDeck, withQuadruped, withBird, (*stage).jointedFace, (*stage).tailAlone})
	part, axis, change := s.mover()
	for _, p := range s.soft {
		if p != part {
			s.Ease(p, designed.X, designed.Drift(s.fork(), 0.8))
			s.Ease(p, designed.Y, designed.Drift(s.fork(), 0.8))
		}
	}
	s.liveFace(0, 0)
	f := s.onFrame
	a, b, c, d := f(s.seed.Between(0.8, 1.4)), f(s.seed.Between(1.8, 2.4)), f(s.seed.Between(3, 3.6)), f(s.seed.Between(4.4, 5))
	slope := 0.0
	if flawed {
		slope = s.seed.Between(0.5, 1.1) * change / (c - b)
	}
	keys := []designed.Key{{T: a}, {T: b, V: change, Slope: slope}, {T: c, V: change}, {T: d, V: 0.4 * change}}
	if !flawed && s.seed.Chance(0.5) {
		past := f(b + 0.4)
		keys = append(keys[:2:2], designed.Key{T: past, V: 1.08 * change}, keys[2], keys[3])
	}
	s.Ease(part, axis, designed.Keyed(keys...))
	s.Parts[part].Knots[axis] = []float64{}
	for _, k := range keys {
		s.Parts[part].Knots[axis] = append(s.Parts[part].Knots[axis], k.T)
	}
	s.follow(part, a, b-a, change)
	s.follow(part, c, d-c, -0.6*change)
	s.plant("spline-overshoot", b, c, part)
}
