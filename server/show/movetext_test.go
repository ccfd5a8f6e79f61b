package show

import (
	"testing"

	"curvelint/diagnostics/motion"
)

func TestBriefAmounts(t *testing.T) {
	for _, tt := range []struct {
		quality motion.Quality
		v       float64
		want    string
	}{
		{motion.Rotation, 554.1712, "554 degrees"},
		{motion.Rotation, 13.2349, "13.2 degrees"},
		{motion.Rotation, 5.0871, "5.09 degrees"},
		{motion.Rotation, 9.999, "10 degrees"},
		{motion.Position, 0.2317, "23.2 % of figure size"},
		{motion.Value, 0.5, "50 % of its range"},
		{motion.Position, 12345, "1234500 % of figure size"},
	} {
		if got := briefly(tt.quality, tt.v); got != tt.want {
			t.Errorf("%g: %s, want %s", tt.v, got, tt.want)
		}
	}
}
