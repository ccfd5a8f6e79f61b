package corpus

import (
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/cmd/lab/designed"
	"curvelint/cmd/lab/designed/natural"
)

// bodyPlanters plant the flaws of contact and body.
var bodyPlanters = map[string]planter{
	"sliding-contact": plantSlide,
}

// plantSlide lets a planted foot slide, or lifts it for a step; or a whole walk
// skates.
func plantSlide(s *stage, flawed bool) {
	if s.seed.Chance(0.4) {
		plantSkating(s, flawed)
		return
	}
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

// plantSkating lets a biped or a quadruped walk whose feet keep moving with the body
// while they stand, or one whose feet do not.
func plantSkating(s *stage, flawed bool) {
	kind, skate := natural.Walk, s.seed.Between(0.14, 0.2)
	if s.seed.Chance(0.5) {
		kind, skate = natural.Trot, s.seed.Between(0.28, 0.36) // it is slower for its size
	}
	s.Shot = natural.Shot(kind, natural.Options{Seed: s.fork(), Seconds: seconds, Names: s.names, Size: s.k})
	root := s.Figures[0].Root
	hips := s.Children()[root][0]
	z := s.Parts[hips].Move[designed.Z]
	// The figure falls back along its way, feet and all.
	back := func(t float64) float64 { return skate * (z(t) - z(0)) }
	var parts []int
	for i := range s.Limbs {
		l := &s.Limbs[i]
		parts = append(parts, l.Upper, l.Lower, l.End)
		if goal := l.Goal; flawed {
			l.Goal = func(t float64) r3.Vec { return r3.Sub(goal(t), r3.Vec{Z: back(t)}) }
		}
	}
	if flawed {
		s.Parts[hips].Move[designed.Z] = func(t float64) float64 { return z(t) - back(t) }
	}
	for p := range s.Parts {
		if up := s.Parts[p].Parent; slices.Contains(parts, up) && !slices.Contains(parts, p) {
			parts = append(parts, p)
		}
	}
	s.plant("sliding-contact", 0.2, seconds, parts[0], append(parts, root)...)
}
