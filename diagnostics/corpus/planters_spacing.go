package corpus

import "curvelint/diagnostics/designed"

// spacingPlanters plant the flaws of spacing.
var spacingPlanters = map[string]planter{
	"even-spacing": plantEven,
	"hitch":        plantHitch,
	"hard-start":   plantHardStart,
	"hard-stop":    plantHardStop,
}

// plantEven turns the head, an arm or the chest at one speed, or with a proper
// ease.
func plantEven(s *stage, flawed bool) {
	s.anyOf(everyone)
	s.live(0, 0)
	from, dur := s.seed.Between(1, 3.5), s.seed.Between(0.45, 0.9)
	p := designed.Trapezoid(s.seed.Between(0.02, 0.12))
	if !flawed {
		p = []designed.Profile{minJerk, designed.HalfCosine, designed.Smooth}[s.seed.Int(3)]
	}
	part, axis, change := s.mover()
	s.ease(part, axis, p, from, dur, change)
	s.plant("even-spacing", from, from+dur, part)
}

// plantHitch lets a reach or a turn of the body stutter on the way.
func plantHitch(s *stage, flawed bool) {
	s.biped()
	s.live(0, 0)
	from, dur := s.seed.Between(1, 3.5), s.seed.Between(0.5, 0.65)
	p := minJerk
	mid := s.seed.Between(0.45, 0.55)
	if flawed {
		p = designed.Stuttered(minJerk, mid, 0.1, s.seed.Between(0.05, 0.2))
	}
	side := s.seed.Int(2)
	s.ease(s.Upper[side], designed.X, p, from, dur, -s.seed.Between(55, 80))
	at := from + mid*dur
	s.plant("hitch", at-0.08, at+0.08, s.Upper[side], s.Fore[side], s.Hand[side])
}

// hardArm is an arm swung up with a profile of its own at one end.
func (s *stage) hardArm(p designed.Profile, check string, flawed, start bool) {
	s.biped()
	s.live(0, 0)
	from, dur := s.onFrame(s.seed.Between(1.2, 3.4)), s.onFrame(s.seed.Between(0.4, 0.6))
	if !flawed {
		p = minJerk
	}
	side := s.seed.Int(2)
	s.ease(s.Upper[side], designed.X, p, from, dur, -s.seed.Between(45, 70))
	at := from + dur
	if start {
		at = from
	}
	s.plant(check, at-0.04, at+0.04, s.Upper[side])
}

func plantHardStart(s *stage, flawed bool) {
	// Fast at once, then slower and slower: the first spacing is the largest.
	s.hardArm(func(x float64) float64 { return 1 - (1-x)*(1-x)*(1-x) }, "hard-start", flawed, true)
}

func plantHardStop(s *stage, flawed bool) {
	s.hardArm(func(x float64) float64 { return x * x * x }, "hard-stop", flawed, false)
}
