package body

import (
	"slices"

	"curvelint/diagnostics/motion/solve"
	"curvelint/diagnostics/motion/vec"
	"curvelint/parse/scene"
)

// A blink closes and opens within 0.1 to 0.4 s (common practice, no source).
const longestBlink = 0.4

// blinks reports whether a part turns as lids do: it rests, leaves its rest by
// more than a third of its range now and then, and is back within a blink's time
// every time.
func (c *Cast) blinks(p scene.PartID) bool {
	if !c.Turns(p) || c.N < 3 {
		return false
	}
	var turn [3][]float64
	locals := c.Locals(p, 0, c.N)
	first := locals[0].Quaternion()
	for i := range locals {
		d := solve.RotationStep(first, locals[i].Quaternion())
		if !vec.Finite(d) {
			return false
		}
		turn[0], turn[1], turn[2] = append(turn[0], d.X), append(turn[1], d.Y), append(turn[2], d.Z)
	}
	most, far := turn[0], 0.0
	for _, v := range turn {
		if r := slices.Max(v) - slices.Min(v); r > far {
			most, far = v, r
		}
	}
	rest := slices.Sorted(slices.Values(most))[c.N/2]
	for i := range most {
		most[i] -= rest
	}
	return far > 0 && shortTrips(most, 0.35*far, c.Window(longestBlink))
}

// shortTrips reports whether the values leave zero by more than far and come
// back at least once, and never stay away for more than so many frames.
func shortTrips(v []float64, far float64, frames int) bool {
	trips, run := 0, 0
	for i, x := range v {
		if x <= far && x >= -far {
			if run > 0 && run < i {
				trips++ // it had left after the first frame
			}
			run = 0
			continue
		}
		if run++; run > frames {
			return false
		}
	}
	return trips > 0
}
