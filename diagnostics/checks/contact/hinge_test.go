package contact

import (
	"math"
	"testing"

	"curvelint/diagnostics/motion"
)

// TestNoHinge: a knee and an elbow that locks have a hinge, also when it bends the
// wrong way for a moment; a gull's wing that folds and flaps has none. Invented data.
func TestNoHinge(t *testing.T) {
	for _, tt := range []struct {
		about string
		angle func(f float64) float64 // degrees
		side  func(f float64) float64 // cosine from the usual axis
		want  bool
	}{
		{"a knee", func(f float64) float64 { return 30 + 20*math.Sin(f) }, func(float64) float64 { return 1 }, false},
		{"a straight arm", func(f float64) float64 { return 2 }, math.Sin, false},
		{"a knee that bends back once", func(f float64) float64 { return 20 }, func(f float64) float64 {
			if f > 40 && f < 50 {
				return -1
			}
			return 1
		}, false},
		{"a wing", func(f float64) float64 { return 20 + 4*math.Sin(f) }, func(f float64) float64 { return math.Abs(math.Sin(f / 2)) }, true},
		{"a ball joint used both ways", func(f float64) float64 { return 20 }, func(f float64) float64 { return math.Copysign(1, math.Sin(f/4)) }, true},
	} {
		var f motion.Flexion
		for i := range 96 {
			f.Angle = append(f.Angle, tt.angle(float64(i)))
			f.Side = append(f.Side, tt.side(float64(i)))
		}
		if got := noHinge(&f, kneePopBentEnough.Value); got != tt.want {
			t.Errorf("%s: no hinge %v, want %v", tt.about, got, tt.want)
		}
	}
}
