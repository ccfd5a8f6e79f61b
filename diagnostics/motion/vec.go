package motion

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

func vec(p [3]float64) r3.Vec { return r3.Vec{X: p[0], Y: p[1], Z: p[2]} }

func distance(a, b r3.Vec) float64 { return length(r3.Sub(a, b)) }

// length is r3.Norm without its guard against overflow, which costs more than
// the rest of an inner loop.
func length(v r3.Vec) float64 { return math.Sqrt(v.X*v.X + v.Y*v.Y + v.Z*v.Z) }
