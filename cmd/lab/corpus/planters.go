package corpus

import (
	"maps"

	"curvelint/cmd/lab/designed"
)

// planters holds a planter for each check of the corpus.
var planters = joined(timingPlanters, spacingPlanters, holdPlanters, noisePlanters, bodyPlanters, pathPlanters, contactPlanters, hingePlanters, stagingPlanters, wholePlanters, keyPlanters)

func joined(all ...map[string]planter) map[string]planter {
	out := map[string]planter{}
	for _, m := range all {
		maps.Copy(out, m)
	}
	return out
}

var minJerk = designed.Profile(designed.MinimumJerk)

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
