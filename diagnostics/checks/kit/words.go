package kit

import (
	"math"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/body"
	"curvelint/diagnostics/motion/track"
	"curvelint/diagnostics/words"
)

// DegreesPerRadian is 180/pi.
const DegreesPerRadian = 180 / math.Pi

// PointName is what a person calls a tracked point.
func PointName(c *Context, fig *motion.Figure, i int) string {
	p := fig.Points[i]
	switch p.Role {
	case body.RootPoint, body.TipPoint, body.LonePoint:
		return c.Name(p.Part)
	}
	return p.Name
}

// counterMove is by how much a share is more than rounding makes it.
const counterMove = 5 / float64(100)

// Share writes a driver's share: well above 1 it works against a counter-move.
func Share(v float64) string {
	if v > 1+counterMove {
		return "against a counter-move"
	}
	return words.Percent(min(v, 1))
}

// Unit is the unit of a quality.
func Unit(q track.Quality) string {
	switch q {
	case track.Rotation:
		return "degrees"
	case track.Value:
		return "range"
	}
	return "figure"
}

// Amount writes a length of a quality for a glance.
func Amount(q track.Quality, v float64) string { return words.Amount(Unit(q), v) }
