package corpus

import (
	"maps"

	"curvelint/diagnostics/designed"
)

// planters holds a planter for each check of the corpus.
var planters = joined(timingPlanters, spacingPlanters, holdPlanters, noisePlanters, bodyPlanters, pathPlanters, contactPlanters, hingePlanters, stagingPlanters, wholePlanters)

func joined(all ...map[string]planter) map[string]planter {
	out := map[string]planter{}
	for _, m := range all {
		maps.Copy(out, m)
	}
	return out
}

var minJerk = designed.Profile(designed.MinimumJerk)

// acts gives the body something to do before and after a hold.
func (s *stage) acts(at, dur float64) {
	s.ease(s.Head, designed.Y, minJerk, at, dur, s.seed.Between(14, 26)*s.seed.Sign())
	s.ease(s.Chest, designed.Y, minJerk, at+0.1, dur*1.1, s.seed.Between(6, 11)*s.seed.Sign())
	side := s.seed.Int(2)
	s.ease(s.Upper[side], designed.X, minJerk, at+0.06, dur*0.95, -s.seed.Between(14, 30))
	s.ease(s.Fore[side], designed.X, minJerk, at+0.14, dur*0.9, -s.seed.Between(10, 26))
}

// arm moves an arm from the shoulder and the elbow.
func (s *stage) arm(side int, at, dur, lift, bend float64) {
	s.ease(s.Upper[side], designed.X, minJerk, at, dur, lift)
	s.ease(s.Fore[side], designed.X, minJerk, at+0.08, dur, bend)
}

// gated lets a signal through between two times, fading within a tenth of a
// second at both ends.
func gated(sig designed.Signal, from, to float64) designed.Signal {
	const fade = 0.1
	gate := designed.Add(designed.Stroke(minJerk, from, from+fade, 1), designed.Stroke(minJerk, to-fade, to, -1))
	return func(t float64) float64 { return sig(t) * gate(t) }
}
