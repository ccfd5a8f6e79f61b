package solve

import (
	"math"

	"curvelint/diagnostics/motion/vec"
)

// The table of sines and cosines goes from -wholeTurns to wholeTurns degrees, with
// perDegree entries in each.
const (
	wholeTurns = 360
	perDegree  = 8
)

// turnTable has the sine and cosine of d/perDegree degrees at
// d+wholeTurns*perDegree.
var turnTable = func() (table [2*wholeTurns*perDegree + 1][2]float64) {
	// Counting quarters makes the multiples of 90 degrees exact.
	var quarter [90 * perDegree][2]float64
	for i := range quarter {
		quarter[i][0], quarter[i][1] = math.Sincos(float64(i) / perDegree * vec.Degree)
	}
	for i := range table {
		d := i - wholeTurns*perDegree + 720*perDegree
		sin, cos := quarter[d%len(quarter)][0], quarter[d%len(quarter)][1]
		for range d / len(quarter) % 4 {
			sin, cos = cos, -sin
		}
		table[i] = [2]float64{sin, cos}
	}
	return table
}()

// wholeNumbers is so large that the sum of it and a number has no digits behind
// the point: that number rounded, in the lowest bits. Converting to an integer
// and back takes three times as long.
const wholeNumbers = 3 << 51

// halfTurns sets sin and cos to the sines and cosines of half the angles, in
// degrees: what turns a quaternion. The angles are every step-th element of
// degrees, as many as sin and cos have elements. Results are within 2e-16,
// exact at multiples of 180 degrees, and take about a fifth of the time of
// math.Sincos: the sum of an eighth of a degree, from a table, and of at most half
// of one, whose series are short,
//
//	sin(k+r) = sin k cos r + cos k sin r
//	cos(k+r) = cos k cos r - sin k sin r
//
// Special cases are:
//   - NaN for NaN and infinities.
func halfTurns(sin, cos, degrees []float64, step int) {
	cos = cos[:len(sin)]
	at := 0
	for i := range sin {
		h := degrees[at] * (0.5 * perDegree)
		at += step
		whole := h + wholeNumbers
		k := uint(math.Float64bits(whole)-math.Float64bits(wholeNumbers)) + wholeTurns*perDegree
		if k >= uint(len(turnTable)) {
			farTurns(sin[i:], cos[i:], degrees[at-step:], step)
			return
		}
		r := (h - (whole - wholeNumbers)) * (vec.Degree / perDegree)
		y := r * r
		s := r - r*y*(1.0/6)
		c := y * (y*(1.0/24) - 0.5) // cos r - 1
		t := &turnTable[k]
		sin[i] = t[0] + (t[0]*c + t[1]*s)
		cos[i] = t[1] + (t[1]*c - t[0]*s)
	}
}

// farTurns is halfTurns for angles of which the first is beyond the table:
// whole turns are taken off, which is exact.
func farTurns(sin, cos, degrees []float64, step int) {
	near := [1]float64{math.Remainder(degrees[0], 720)}
	if near[0] == near[0] {
		halfTurns(sin[:1], cos[:1], near[:], 1)
	} else {
		sin[0], cos[0] = near[0], near[0]
	}
	if len(sin) > 1 {
		halfTurns(sin[1:], cos[1:], degrees[step:], step)
	}
}
