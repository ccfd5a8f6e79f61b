package motion

import "math"

// wholeTurns is the range of the table of sines and cosines: whole degrees from
// -wholeTurns to wholeTurns.
const wholeTurns = 360

// turnTable has the sine and cosine of every whole degree d at d+wholeTurns.
var turnTable = func() (table [2*wholeTurns + 1][2]float64) {
	for i := range table {
		// Counting quarters first makes the multiples of 90 degrees exact.
		d := i - wholeTurns + 720
		sin, cos := math.Sincos(float64(d%90) * radians)
		for range d / 90 % 4 {
			sin, cos = cos, -sin
		}
		table[i] = [2]float64{sin, cos}
	}
	return table
}()

// halfTurns sets sin and cos to the sines and cosines of half the angles, in
// degrees: what turns a quaternion. The angles are every step-th element of
// degrees, as many as sin and cos have elements. Results are within 2e-16,
// exact at multiples of 180 degrees, and take about a third of the time of
// math.Sincos: the sum of a whole degree, from a table, and of at most half a
// degree, whose series are short,
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
		h := degrees[at] / 2
		at += step
		if !(h > -wholeTurns && h < wholeTurns) {
			farTurns(sin[i:], cos[i:], degrees[at-step:], step)
			return
		}
		k := int(h + (wholeTurns + 0.5)) // the nearest whole degree's place
		r := (h - (float64(k) - wholeTurns)) * radians
		y := r * r
		s := r + r*y*(-1.0/6+y*(1.0/120))
		c := y * (-1.0/2 + y*(1.0/24-y*(1.0/720))) // cos r - 1
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
