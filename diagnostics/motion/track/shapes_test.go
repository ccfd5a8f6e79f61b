package track

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// The rates at which the same motion must read the same.
var rates = []float64{24, 25, 30, 48, 60, 120}

// sampled builds a position track from a path over seconds.
func sampled(rate, seconds float64, p func(t float64) r3.Vec) *Track {
	n := int(math.Round(rate*seconds)) + 1
	t := &Track{Name: "gull", Rate: rate, Unit: 1, X: make([]float64, n), Y: make([]float64, n), Z: make([]float64, n)}
	for i := range n {
		t.Put(i, p(float64(i)/rate))
	}
	return t
}

// along builds a track on one axis.
func along(rate, seconds float64, x func(t float64) float64) *Track {
	return sampled(rate, seconds, func(t float64) r3.Vec { return r3.Vec{X: x(t)} })
}

// frames builds a track on one axis at 24 frames per second.
func frames(x ...float64) *Track {
	return &Track{Name: "winch", Rate: 24, Unit: 1, X: x, Y: make([]float64, len(x)), Z: make([]float64, len(x))}
}

// fromSpacing builds a track on one axis from its spacings.
func fromSpacing(s ...float64) *Track {
	x := make([]float64, len(s)+1)
	for i := range s {
		x[i+1] = x[i] + s[i]
	}
	return frames(x...)
}

// minimumJerk is 10s^3 - 15s^4 + 6s^5 with s cut to 0..1: T. Flash, N. Hogan,
// Journal of Neuroscience 5 (1985), pages 1688-1703.
func minimumJerk(s float64) float64 {
	s = min(max(s, 0), 1)
	return s * s * s * (10 - 15*s + 6*s*s)
}

func smoothstep(s float64) float64 { s = min(max(s, 0), 1); return s * s * (3 - 2*s) }

func halfCosine(s float64) float64 { return (1 - math.Cos(math.Pi*min(max(s, 0), 1))) / 2 }

// swing is a move of length one after half a second of rest, of a duration.
func swing(seconds float64) func(t float64) float64 {
	return func(t float64) float64 { return minimumJerk((t - 0.5) / seconds) }
}

func about(a, b, tolerance float64) bool { return math.Abs(a-b) <= tolerance }
