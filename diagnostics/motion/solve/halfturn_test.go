package solve

import (
	"math"
	"testing"

	"curvelint/diagnostics/motion/vec"
)

// The tolerance is two units in the last place of 1.
const halfTurnTolerance = 2.3e-16

func halfTurn(degrees float64) (sin, cos float64) {
	var s, c [1]float64
	halfTurns(s[:], c[:], []float64{degrees}, 1)
	return s[0], c[0]
}

func TestHalfTurns(t *testing.T) {
	for i := -4000; i <= 4000; i++ {
		d := float64(i) * 0.37
		sin, cos := halfTurn(d)
		// The argument is reduced in degrees first, which is exact.
		wantSin, wantCos := math.Sincos(math.Remainder(d, 720) * (vec.Degree / 2))
		if math.Abs(sin-wantSin) > 6*halfTurnTolerance || math.Abs(cos-wantCos) > 6*halfTurnTolerance {
			t.Fatalf("%g degrees: %.17g %.17g, want %.17g %.17g", d, sin, cos, wantSin, wantCos)
		}
		if one := sin*sin + cos*cos; math.Abs(one-1) > 2*halfTurnTolerance {
			t.Fatalf("%g degrees: length %.17g", d, one)
		}
	}
	// Closed forms: the half angles 0, 90, 180, 270 and, exactly in sine and
	// cosine alike, 45.
	for _, c := range []struct{ degrees, sin, cos float64 }{
		{0, 0, 1}, {180, 1, 0}, {360, 0, -1}, {540, -1, 0}, {720, 0, 1}, {-180, -1, 0}, {3600, 0, 1},
		{90, math.Sqrt2 / 2, math.Sqrt2 / 2}, {-90, -math.Sqrt2 / 2, math.Sqrt2 / 2}, {60, 0.5, math.Sqrt(3) / 2},
	} {
		sin, cos := halfTurn(c.degrees)
		if math.Abs(sin-c.sin) > halfTurnTolerance || math.Abs(cos-c.cos) > halfTurnTolerance {
			t.Errorf("%g degrees: %.17g %.17g, want %g %g", c.degrees, sin, cos, c.sin, c.cos)
		}
	}
	for _, d := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		if sin, cos := halfTurn(d); !math.IsNaN(sin) || !math.IsNaN(cos) {
			t.Errorf("%g degrees: %g %g", d, sin, cos)
		}
	}
	if sin, cos := halfTurn(1e12); math.Abs(sin*sin+cos*cos-1) > 1e-12 {
		t.Errorf("a large angle: %g %g", sin, cos)
	}
}

func BenchmarkHalfTurns(b *testing.B) {
	v := make([]float64, 1024)
	for i := range v {
		v[i] = 80 * math.Sin(float64(i))
	}
	s, c := make([]float64, len(v)), make([]float64, len(v))
	sum := 0.0
	b.Run("ours", func(b *testing.B) {
		for b.Loop() {
			halfTurns(s, c, v, 1)
			sum += s[0] * c[1]
		}
	})
	b.Run("math", func(b *testing.B) {
		for b.Loop() {
			for _, d := range v {
				s, c := math.Sincos(d * (vec.Degree / 2))
				sum += s * c
			}
		}
	})
	if sum == 0 {
		b.Fatal(sum)
	}
}
