package corpus

import "curvelint/diagnostics/designed"

// noisePlanters plant the flaws of noise.
var noisePlanters = map[string]planter{
	"pop":        plantPop,
	"busy":       plantBusy,
	"angle-flip": plantFlip,
}

// plantPop shifts one frame of a turn.
func plantPop(s *stage, flawed bool) {
	s.biped()
	s.live(0, 0)
	s.acts(1, 0.8)
	at := s.seed.Between(2.5, 4.5)
	part := []int{s.Head, s.Chest, s.Upper[0], s.Fore[1]}[s.seed.Int(4)]
	size := s.seed.Between(7, 16) * s.seed.Sign()
	if flawed {
		s.Jumps = append(s.Jumps, designed.Jump{Part: part, Turn: true, Axis: designed.X, At: at, Size: size})
	} else {
		s.Ease(part, designed.X, designed.Swell(at-0.3, at+0.3, size))
	}
	s.plant("pop", at, at, part)
}

// plantBusy lets a hand or the head tremble.
func plantBusy(s *stage, flawed bool) {
	s.biped()
	s.live(0, 0)
	from, dur := s.seed.Between(1, 3), s.seed.Between(0.9, 1.6)
	part := []int{s.Head, s.Fore[0], s.Fore[1]}[s.seed.Int(3)]
	period := 1 / s.seed.Between(4, 5.5)
	if !flawed {
		period = s.seed.Between(0.55, 0.8) // a nod or a slow wave
	}
	s.Ease(part, designed.X, gated(designed.Wave(2.4, period, 0), from, from+dur))
	s.plant("busy", from, from+dur, part)
}

// plantFlip lets one angle go on by a whole turn; the near miss turns far.
func plantFlip(s *stage, flawed bool) {
	s.formats = between
	s.biped()
	s.live(0, 0)
	at := s.seed.Between(2, 4)
	part := []int{s.Hand[0], s.Hand[1], s.Head, s.Fore[0]}[s.seed.Int(4)]
	s.ease(part, designed.Y, minJerk, at-0.4, 0.9, s.seed.Between(20, 60))
	if flawed {
		s.Wraps = append(s.Wraps, designed.Wrap{Part: part, Axis: designed.Y, At: at, Turns: 1})
	}
	s.plant("angle-flip", at-0.05, at+0.05, part)
}
