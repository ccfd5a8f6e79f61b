package corpus

import (
	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/designed"
)

// plantSlide lets a planted foot slide, or lifts it for a step.
func plantSlide(s *stage, flawed bool) {
	s.live(0, 0)
	side := s.seed.Int(2)
	from, dur := s.seed.Between(1.2, 2.5), s.seed.Between(0.8, 1.5)
	way := s.seed.Between(12, 18) * s.k
	at := r3.Scale(s.k, r3.Vec{X: 16 * out(side), Y: 9, Z: 4 * out(side)})
	var lift designed.Signal
	if !flawed {
		lift = designed.Swell(from, from+dur, 22*s.k)
	}
	goal := designed.Place3(at, designed.Stroke(minJerk, from, from+dur, 0.3*way*out(side)), lift, designed.Stroke(minJerk, from, from+dur, way))
	s.PlantFoot(s.Shot, side, s.Root, goal, designed.Turn3(nil, designed.Still(12*out(side)), nil))
	s.Shift(s.Hips, designed.Z, designed.Stroke(minJerk, from, from+dur*1.2, way*0.5))
	s.plant("sliding-contact", from, from+dur, s.Foot[side], s.Toe[side], s.ToeTip[side], s.Thigh[side], s.Shin[side], s.Hips)
}

// plantRushed holds an expression for a few frames only, or long enough.
func plantRushed(s *stage, flawed bool) {
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

// plantStare leaves eyes and lids still for most of the scene.
func plantStare(s *stage, flawed bool) {
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
	s.live(0, 0)
	side := s.seed.Int(2)
	from, dur := 0.8, s.seed.Between(0.4, 0.6)
	s.ease(s.Upper[side], designed.X, minJerk, from, dur, -55)
	half, ratio, n := s.seed.Between(0.2, 0.28), s.seed.Between(0.88, 0.98), 6
	if !flawed {
		ratio, n = s.seed.Between(0.3, 0.45), 3
	}
	s.Ease(s.Upper[side], designed.X, designed.Settle(from+dur, half, 9, ratio, n))
	s.plant("loose-settle", from+dur, from+dur+half*float64(n), s.Upper[side])
}

// plantMirrored moves both arms as mirror images, or one of them on its own.
func plantMirrored(s *stage, flawed bool) {
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

// arm moves an arm from the shoulder and the elbow.
func (s *stage) arm(side int, at, dur, lift, bend float64) {
	s.ease(s.Upper[side], designed.X, minJerk, at, dur, lift)
	s.ease(s.Fore[side], designed.X, minJerk, at+0.08, dur, bend)
}

// plantMasked changes the brows in a whip of the head, or before it.
func plantMasked(s *stage, flawed bool) {
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
