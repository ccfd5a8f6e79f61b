package corpus

import "curvelint/diagnostics/designed"

// rush is at full speed after a tenth of its time and then slows down evenly.
func rush(x float64) float64 {
	const up = 0.1
	if x < up {
		return 10 * x * x
	}
	y := x - up
	return 2 * (up/2 + y - y*y/(2*(1-up)))
}

// plantDeadStart throws an arm up from a hold, or after a small move back.
func plantDeadStart(s *stage, flawed bool) {
	s.live(0, 0)
	side := s.seed.Int(2)
	from, dur := s.onFrame(s.seed.Between(1.4, 3.2)), s.seed.Between(0.45, 0.6)
	change := -s.seed.Between(60, 85)
	if !flawed {
		s.ease(s.Upper[side], designed.X, minJerk, from-0.32, 0.32, -0.12*change)
		change *= 1.12
	}
	s.ease(s.Upper[side], designed.X, rush, from, dur, change)
	s.plant("no-anticipation", from, from+dur, s.Upper[side], s.Fore[side])
}

// plantLostLead shifts the weight with the hips first, or with the head first.
func plantLostLead(s *stage, flawed bool) {
	s.live(0, 0)
	at, dur := s.seed.Between(1.2, 2.6), s.seed.Between(0.7, 0.9)
	late := []float64{0, s.seed.Between(0.1, 0.14), s.seed.Between(0.22, 0.3)} // head, chest, hips
	if flawed {
		late[0], late[2] = s.seed.Between(0.25, 0.4), 0
	}
	s.ease(s.Head, designed.Y, minJerk, at+late[0], dur*0.8, s.seed.Between(22, 36)*s.seed.Sign())
	s.ease(s.Chest, designed.Y, minJerk, at+late[1], dur, s.seed.Between(10, 16)*s.seed.Sign())
	s.Shift(s.Hips, designed.X, designed.Stroke(minJerk, at+late[2], at+late[2]+dur, s.seed.Between(30, 38)*s.k*s.seed.Sign()))
	s.plant("lost-lead", at, at+late[0]+0.1, s.Hips, s.Chest)
}

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

// plantUniform slides the whole body in a hold, or lets it live.
func plantUniform(s *stage, flawed bool) {
	from := s.seed.Between(2.2, 2.8)
	to := from + s.seed.Between(0.8, 1.4)
	s.acts(from-1.2, 0.7)
	s.acts(to+0.3, 0.7)
	if flawed {
		s.live(from-0.1, to+0.1)
		s.Shift(s.Root, designed.X, designed.Stroke(designed.Even, from-0.5, to+0.5, 0.02*240*s.k*s.seed.Sign()))
	} else {
		s.live(0, 0)
	}
	s.plant("uniform-drift", from, to, s.Root, s.Hips)
}
