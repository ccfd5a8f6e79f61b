package corpus

import "curvelint/diagnostics/designed"

// timingPlanters plant the flaws of timing.
var timingPlanters = map[string]planter{
	"twinned-keys":  plantTwinned,
	"rushed-read":   plantRushed,
	"mirrored-pose": plantMirrored,
	"masked-change": plantMasked,
	"crowded-beat":  plantCrowded,
}

// plantTwinned changes brows and lids on the same frames, or lets the lids
// follow.
func plantTwinned(s *stage, flawed bool) {
	s.biped()
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

// plantRushed holds an expression for a few frames only, or long enough.
func plantRushed(s *stage, flawed bool) {
	s.biped()
	s.live(0, 0)
	at := s.seed.Between(1.2, 3)
	hold := s.seed.Between(0.1, 0.2)
	if !flawed {
		hold = s.seed.Between(0.6, 1)
	}
	dur := s.seed.Between(0.2, 0.3)
	for side := range 2 {
		s.Ease(s.Brow[side], designed.X, designed.Stroke(minJerk, at, at+dur, -8))
		s.Ease(s.Brow[side], designed.X, designed.Stroke(minJerk, at+dur+hold, at+2*dur+hold, -8))
	}
	s.plant("rushed-read", at+dur, at+dur+hold, s.Brow[0], s.Brow[1])
}

// plantMirrored moves both arms as mirror images, or one of them on its own.
func plantMirrored(s *stage, flawed bool) {
	s.bipedAlike()
	// Both sides hang alike before they move.
	lift, bend := -s.seed.Between(30, 60), -s.seed.Between(25, 60)
	t1, t2 := s.seed.Between(0.6, 1.2), s.seed.Between(2.6, 3.4)
	for side := range 2 {
		late, k := 0.0, 1.0
		if !flawed && side == 1 {
			late, k = s.seed.Between(0.12, 0.3), s.seed.Between(0.4, 0.7)
		}
		s.arm(side, t1+late, 0.7, lift*k, bend*k)
		s.arm(side, t2+late, 0.8, -lift*k*0.6, -bend*k*0.5)
	}
	// What lives does so on the mirror plane.
	for _, p := range []int{s.Spine, s.Chest, s.Neck, s.Head} {
		s.Ease(p, designed.X, designed.Drift(s.fork(), 1))
	}
	s.Shift(s.Hips, designed.Y, designed.Drift(s.fork(), 0.6*s.k))
	s.plant("mirrored-pose", t1, t2+0.8, s.Fore[0], s.Hand[0], s.Upper[0])
}

// plantMasked changes the brows in a whip of the head, or before it.
func plantMasked(s *stage, flawed bool) {
	s.biped()
	s.live(0, 0)
	at, dur := s.seed.Between(1.5, 3.5), s.seed.Between(0.35, 0.45)
	s.ease(s.Head, designed.Y, minJerk, at, dur, s.seed.Between(65, 80)*s.seed.Sign())
	change := at + 0.25*dur
	if !flawed {
		change = at - s.seed.Between(0.5, 0.7)
	}
	for side := range 2 {
		s.ease(s.Brow[side], designed.X, minJerk, change, dur*0.5, -11)
	}
	s.plant("masked-change", change, change+dur*0.5, s.Brow[0], s.Brow[1])
}

// plantCrowded lets everything be fastest in the same frame, or one after the
// other.
func plantCrowded(s *stage, flawed bool) {
	s.biped()
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
