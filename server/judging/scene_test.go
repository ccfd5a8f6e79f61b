package judging

import (
	"testing"
	"time"
)

func TestPauseBefore(t *testing.T) {
	const ms = time.Millisecond
	for _, tt := range []struct {
		name               string
		quiet, study, want time.Duration
	}{
		{"an edit that stands alone", time.Second, 20 * ms, 0},
		{"the same after a long study", 400 * ms, 3 * time.Second, 0},
		{"typing faster than studying", 30 * ms, 20 * ms, 20 * ms},
		{"typing in a large scene", 100 * ms, 3 * time.Second, longestPause},
		{"typing in a small scene", 100 * ms, 2 * ms, 0},
		{"a scene that costs nothing", 0, 0, 0},
	} {
		if got := pauseBefore(tt.quiet, tt.study); got != tt.want {
			t.Errorf("%s: %v, want %v", tt.name, got, tt.want)
		}
	}
}
