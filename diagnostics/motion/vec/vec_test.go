package vec

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// Near 0 and 180 degrees the arc cosine has lost half of its digits.
func TestAngle(t *testing.T) {
	for _, degrees := range []float64{0, 1e-7, 1, 45, 90, 120, 179.9999999, 180} {
		sin, cos := math.Sincos(degrees * Degree)
		if got := Angle(r3.Vec{X: 3}, r3.Vec{X: 2 * cos, Z: 2 * sin}); math.Abs(got-degrees) > 1e-12 {
			t.Errorf("%g degrees: %.15g", degrees, got)
		}
	}
	if Angle(r3.Vec{}, r3.Vec{Y: 1}) != 0 {
		t.Error("a vector without length has a direction")
	}
}

func TestFinite(t *testing.T) {
	for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		for _, v := range []r3.Vec{{X: x}, {Y: x}, {Z: x}} {
			if Finite(v) {
				t.Errorf("%v is finite", v)
			}
		}
	}
	if !Finite(r3.Vec{X: 1e300, Y: -1e300}) {
		t.Error("large numbers are not finite")
	}
}
