package show

import (
	"math"
	"strconv"
	"testing"
)

// TestNumbers: numbers are written as the standard library writes them, rounded.
func TestNumbers(t *testing.T) {
	for _, v := range []float64{0, 1, -1, 0.1, 0.05, 0.25, 12.5, 99.99, 99.995, -0.125, 7.1, 1234567.891, 1e14, 1e15, 3e20, -2.5e17, 0.004, 1e-9} {
		for digits, write := range map[float64]func(float64) string{1e2: number2, 1e6: Number} {
			want := strconv.FormatFloat(math.Round(v*digits)/digits, 'f', -1, 64)
			if got := write(v); got != want {
				t.Errorf("%v: %s, want %s", v, got, want)
			}
		}
	}
	if got := number2(-0.001); got != "0" {
		t.Errorf("nearly nothing is written %s", got)
	}
}
