package corpus

import (
	"curvelint/diagnostics/designed"
)

// planters holds a planter for each check of the corpus.
var planters = map[string]planter{
	"even-spacing":    plantEven,
	"frozen-hold":     plantFrozen,
	"twinned-keys":    plantTwinned,
	"hitch":           plantHitch,
	"hard-start":      plantHardStart,
	"hard-stop":       plantHardStop,
	"pop":             plantPop,
	"busy":            plantBusy,
	"angle-flip":      plantFlip,
	"sliding-contact": plantSlide,
	"rushed-read":     plantRushed,
	"dead-stare":      plantStare,
	"loose-settle":    plantSettle,
	"mirrored-pose":   plantMirrored,
	"masked-change":   plantMasked,
	"crowded-beat":    plantCrowded,
}

var minJerk = designed.Profile(designed.MinimumJerk)

// plantEven turns the head, an arm or the chest at one speed, or with a proper
// ease.
func plantEven(s *stage, flawed bool) {
	s.live(0, 0)
	from, dur := s.seed.Between(1, 3.5), s.seed.Between(0.45, 0.9)
	p := designed.Trapezoid(s.seed.Between(0.02, 0.12))
	if !flawed {
		p = []designed.Profile{minJerk, designed.HalfCosine, designed.Smooth}[s.seed.Int(3)]
	}
	part, axis, change := s.Head, designed.Y, s.seed.Between(28, 55)*s.seed.Sign()
	switch s.seed.Int(3) {
	case 1:
		side := s.seed.Int(2)
		part, axis, change = s.Upper[side], designed.X, -s.seed.Between(35, 60)
	case 2:
		part, axis, change = s.Chest, designed.Y, s.seed.Between(16, 28)*s.seed.Sign()
	}
	s.ease(part, axis, p, from, dur, change)
	s.plant("even-spacing", from, from+dur, part)
}

// acts gives the body something to do before and after a hold.
func (s *stage) acts(at, dur float64) {
	s.ease(s.Head, designed.Y, minJerk, at, dur, s.seed.Between(14, 26)*s.seed.Sign())
	s.ease(s.Chest, designed.Y, minJerk, at+0.1, dur*1.1, s.seed.Between(6, 11)*s.seed.Sign())
	side := s.seed.Int(2)
	s.ease(s.Upper[side], designed.X, minJerk, at+0.06, dur*0.95, -s.seed.Between(14, 30))
	s.ease(s.Fore[side], designed.X, minJerk, at+0.14, dur*0.9, -s.seed.Between(10, 26))
}

// plantFrozen stops everything between two moves for 0.45 to 1.2 seconds.
func plantFrozen(s *stage, flawed bool) {
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

// plantTwinned changes brows and lids on the same frames, or lets the lids
// follow.
func plantTwinned(s *stage, flawed bool) {
	s.blink = false
	s.live(0, 0)
	n := 3 + s.seed.Int(3)
	at := s.seed.Between(0.5, 1)
	first, last, up := at, at, 1.0
	for range n {
		dur := s.seed.Between(0.15, 0.28)
		late := 0.0
		if !flawed {
			late = s.seed.Between(0.09, 0.14)
		}
		for side := range 2 {
			s.ease(s.Brow[side], designed.X, minJerk, at, dur, -9*up)
			s.ease(s.Lid[side], designed.X, minJerk, at+late, dur*(1+late), -7*up)
		}
		last = at + dur
		up = -up
		at += dur + s.seed.Between(0.45, 0.9)
	}
	s.plant("twinned-keys", first, last, s.Brow[0], s.Brow[1], s.Lid[0], s.Lid[1])
}

// plantHitch lets a reach or a turn of the body stutter on the way.
func plantHitch(s *stage, flawed bool) {
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

// plantPop shifts one frame of a turn.
func plantPop(s *stage, flawed bool) {
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
	s.live(0, 0)
	at := s.seed.Between(2, 4)
	part := []int{s.Hand[0], s.Hand[1], s.Head, s.Fore[0]}[s.seed.Int(4)]
	s.ease(part, designed.Y, minJerk, at-0.4, 0.9, s.seed.Between(20, 60))
	if flawed {
		s.Wraps = append(s.Wraps, designed.Wrap{Part: part, Axis: designed.Y, At: at, Turns: 1})
	}
	s.plant("angle-flip", at-0.05, at+0.05, part)
}

// gated lets a signal through between two times, fading within a tenth of a
// second at both ends.
func gated(sig designed.Signal, from, to float64) designed.Signal {
	const fade = 0.1
	gate := designed.Add(designed.Stroke(minJerk, from, from+fade, 1), designed.Stroke(minJerk, to-fade, to, -1))
	return func(t float64) float64 { return sig(t) * gate(t) }
}
