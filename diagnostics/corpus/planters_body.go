package corpus

import (
	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/designed"
)

// bodyPlanters plant the flaws of contact and body.
var bodyPlanters = map[string]planter{
	"sliding-contact": plantSlide,
}

// plantSlide lets a planted foot slide, or lifts it for a step.
func plantSlide(s *stage, flawed bool) {
	s.biped()
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
