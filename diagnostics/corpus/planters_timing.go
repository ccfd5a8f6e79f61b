package corpus

import "curvelint/diagnostics/designed"

// plantCrowded lets everything be fastest in the same frame, or one after the
// other.
func plantCrowded(s *stage, flawed bool) {
	s.live(0, 0)
	centre := s.seed.Between(2, 3.5)
	type move struct {
		part, axis int
		change     float64
	}
	moves := []move{
		{s.Head, designed.Y, 30}, {s.Neck, designed.X, 12}, {s.Chest, designed.Y, 15}, {s.Upper[0], designed.X, -40},
		{s.Upper[1], designed.X, -30}, {s.Jaw, designed.X, 9}, {s.Brow[0], designed.X, -9}, {s.Brow[1], designed.X, -9},
	}
	late := 0.0
	for i, m := range moves {
		dur := 0.45 + 0.09*float64(i%6)
		if !flawed {
			late = 0.13 * float64(i)
		}
		if i == 7 { // both brows are one group
			dur, late = 0.45, 0.13*6
			if flawed {
				late = 0
			}
		}
		s.ease(m.part, m.axis, minJerk, centre+late-dur/2, dur, m.change)
	}
	s.plant("crowded-beat", centre-0.45, centre+0.45, s.Head, s.Neck, s.Chest, s.Upper[0], s.Upper[1], s.Jaw, s.Brow[0], s.Brow[1])
}
