package corpus

import "curvelint/diagnostics/designed"

// holdPlanters plant the flaws of holds.
var holdPlanters = map[string]planter{
	"frozen-hold":  plantFrozen,
	"dead-stare":   plantStare,
	"loose-settle": plantSettle,
}

// plantFrozen stops everything between two moves for 0.45 to 1.2 seconds.
func plantFrozen(s *stage, flawed bool) {
	s.biped()
	from := s.seed.Between(2.2, 2.8)
	to := from + s.seed.Between(0.5, 1.2)
	s.acts(from-1.1, 0.7)
	s.acts(to+0.25, 0.7)
	if flawed {
		s.live(from-0.1, to+0.1)
	} else {
		s.live(0, 0)
	}
	s.plant("frozen-hold", from, to, s.Root, s.Hips)
}

// plantStare leaves eyes and lids still for most of the scene.
func plantStare(s *stage, flawed bool) {
	s.biped()
	s.blink = false
	s.live(0, 0)
	s.acts(1.5, 0.8)
	s.acts(4, 0.7)
	times := []float64{0.5}
	if !flawed {
		times = []float64{0.5, 2.4, 4.1}
	}
	for side := range 2 {
		s.Ease(s.Lid[side], designed.X, designed.Blink(28, times...))
	}
	s.plant("dead-stare", 0.9, seconds, s.Lid[0], s.Lid[1], s.Eye[0], s.Eye[1])
}

// plantSettle lets an arm swing on after a stop, or settle.
func plantSettle(s *stage, flawed bool) {
	s.biped()
	s.live(0, 0)
	side := s.seed.Int(2)
	from, dur := 0.8, s.seed.Between(0.4, 0.6)
	s.ease(s.Upper[side], designed.X, minJerk, from, dur, -55)
	half, ratio, n := s.seed.Between(0.2, 0.28), s.seed.Between(0.88, 0.98), 6
	if !flawed {
		ratio, n = s.seed.Between(0.3, 0.45), 3
	}
	swing := designed.Settle(from+dur, half, 9, ratio, n)
	s.Ease(s.Upper[side], designed.X, swing)
	s.Ease(s.Fore[side], designed.X, designed.Late(0.08, designed.Times(0.5, swing)))
	s.plant("loose-settle", from+dur, from+dur+half*float64(n), s.Upper[side])
}
