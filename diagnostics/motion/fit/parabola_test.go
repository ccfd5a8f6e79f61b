package fit

import (
	"math"
	"testing"
)

func TestParabolaOfFreeFall(t *testing.T) {
	// Standard gravity, 3rd CGPM 1901: s = g t^2 / 2, sampled at 24 a second.
	const g = 9.80665
	x := make([]float64, 19)
	for i := range x {
		s := float64(i) / 24
		x[i] = 2 + 3*s - g*s*s/2
	}
	c, worst := Parabola(x)
	if got := -2 * c * 24 * 24; math.Abs(got-g) > 1e-9 || worst > 1e-12 {
		t.Errorf("acceleration %g, residual %g", got, worst)
	}
}
