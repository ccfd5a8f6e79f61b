package corpus

import "curvelint/cmd/lab/designed"

// noisePlanters plant the flaws of noise.
var noisePlanters = map[string]planter{
	"pop":        plantPop,
	"jitter":     plantJitter,
	"angle-flip": plantFlip,
}

// plantPop shifts one frame of a turn or of a way, or lets a part be somewhere else
// from one frame to the next and stay there; or it makes a move of it.
func plantPop(s *stage, flawed bool) {
	s.anyOf(everyone)
	s.live(0, 0)
	if s.Body != nil {
		s.acts(1, 0.8)
	}
	at := s.onFrame(s.seed.Between(2.5, 4.5))
	size := s.seed.Between(7, 16) * s.seed.Sign()
	j := designed.Jump{Part: s.mobile(), Turn: true, Axis: designed.X, At: at, Size: size}
	also := []int{s.root}
	switch {
	case s.hips >= 0 && s.seed.Chance(0.25): // the whole body
		j.Part, j.Turn, j.Axis, j.Size = s.hips, false, s.seed.Int(3), 0.6*size*s.k
	case s.seed.Chance(0.25):
		j.Stays, j.Size = true, 22*s.seed.Sign()
	}
	if flawed {
		s.Jumps = append(s.Jumps, j)
	} else {
		s.Ease(j.Part, designed.X, designed.Swell(at-0.35, at+0.35, size))
	}
	s.plant("pop", at, at, j.Part, also...)
}

// mobile is a part of the figure that an audience sees turn: not eyes or lids.
func (s *stage) mobile() int {
	var parts []int
	for _, p := range []int{s.head, s.chest, s.neck} {
		if p >= 0 {
			parts = append(parts, p)
		}
	}
	for _, l := range s.limbs {
		parts = append(parts, l[0], l[1])
	}
	if len(s.tail) > 0 {
		parts = append(parts, s.tail[0], s.tail[1])
	}
	return parts[s.seed.Int(len(parts))]
}

// plantJitter lets a limb, the head or a tail tremble, or nod or wave slowly, or
// settle.
func plantJitter(s *stage, flawed bool) {
	s.anyOf([]castKind{(*stage).biped, (*stage).biped, (*stage).onDeck, (*stage).pair, withQuadruped, withBird, (*stage).tailAlone})
	s.live(0, 0)
	from, dur := s.seed.Between(1, 3), s.seed.Between(0.9, 1.6)
	part := s.mobile()
	if s.Body != nil {
		part = []int{s.Head, s.limbs[0][1]}[s.seed.Int(2)]
	}
	period := 1 / s.seed.Between(4, 5.5)
	wave := gated(designed.Wave(2.4, period, 0), from, from+dur)
	if !flawed {
		wave = gated(designed.Wave(2.4, s.seed.Between(0.55, 0.8), 0), from, from+dur) // a nod or a slow wave
		if s.seed.Chance(0.4) {
			wave = designed.Settle(from, period/2, 4, 0.55, 5)
		}
	}
	s.Ease(part, designed.X, wave)
	s.plant("jitter", from, from+dur, part)
}

// plantFlip lets one angle go on by a whole turn from one frame to the next; the
// near miss turns far, or all the way round on purpose.
func plantFlip(s *stage, flawed bool) {
	s.formats = between
	s.anyOf([]castKind{(*stage).biped, (*stage).biped, (*stage).onDeck, withQuadruped, withBird, (*stage).tailAlone, (*stage).jointedFace})
	s.live(0, 0)
	at := s.seed.Between(2, 4)
	part := s.mobile()
	change := s.seed.Between(20, 60)
	if !flawed && s.seed.Chance(0.4) {
		change = 360 // a whirl
		if s.head >= 0 {
			part = s.head
		}
		s.ease(part, designed.Z, minJerk, at-0.6, 1.2, change)
	} else {
		s.ease(part, designed.Y, minJerk, at-0.4, 0.9, change)
	}
	if flawed {
		s.Wraps = append(s.Wraps, designed.Wrap{Part: part, Axis: s.seed.Int(3), At: at, Turns: s.seed.Sign()})
	}
	s.plant("angle-flip", at-0.05, at+0.05, part)
}
