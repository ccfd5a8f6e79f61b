// Package vec has the few vector operations that the rooms of the study need beside
// gonum's. They are written for inner loops: nothing is checked.
package vec

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Degree is one degree in radians.
const Degree = math.Pi / 180

// Of returns the vector of three coordinates.
func Of(p [3]float64) r3.Vec { return r3.Vec{X: p[0], Y: p[1], Z: p[2]} }

// Distance returns the distance between two points.
func Distance(a, b r3.Vec) float64 { return Length(r3.Sub(a, b)) }

// Length is r3.Norm without its guard against overflow, which costs more than
// the rest of an inner loop.
func Length(v r3.Vec) float64 { return math.Sqrt(v.X*v.X + v.Y*v.Y + v.Z*v.Z) }

// Finite reports whether no coordinate is infinite or NaN.
func Finite(v r3.Vec) bool {
	s := v.X + v.Y + v.Z
	return !math.IsNaN(s) && !math.IsInf(s, 0)
}

// Angle returns the angle in degrees between two vectors, accurate near 0 and
// 180; 0 when either is 0.
func Angle(d, e r3.Vec) float64 {
	return math.Atan2(Length(r3.Cross(d, e)), r3.Dot(d, e)) / Degree
}
