package write

import (
	"math"

	"curvelint/cmd/lab/designed"
)

// metric returns the take in metres with Y up, for formats that know no other
// unit and axis.
func metric(t *designed.Take) *designed.Take {
	s := t.Shot
	if s.MetersPerUnit == 1 && s.Up == designed.Y {
		return t
	}
	return s.InUnits(1).YUp().Take(t.Rate)
}

// fieldOfView is the angle between the top and the bottom of the picture in
// radians.
func fieldOfView(l *designed.Lens) float64 { return 2 * math.Atan(l.Height/(2*l.Focal)) }

// weights returns the shape weights that hang below a part.
func weights(t *designed.Take, children []int) []int {
	var out []int
	for _, c := range children {
		if t.Shot.Parts[c].Kind == designed.Weight {
			out = append(out, c)
		}
	}
	return out
}

// duration is the time of the last frame in seconds.
func duration(t *designed.Take) float64 { return t.Time(t.N - 1) }
