package clip

import (
	"math"
	"testing"

	"curvelint/parse/scene"
)

func TestOf(t *testing.T) {
	for _, tt := range []struct {
		name              string
		rate, first, last float64
		want              Clip
	}{
		{"a second of film", 24, 1, 25, Clip{24, 1, 25}},
		{"one frame", 25, 7, 7, Clip{25, 7, 1}},
		{"between frames", 24, 0.5, 10.5, Clip{24, 1, 10}},
		{"digits that rounding has cost", 24, 1 + 1e-9, 5 - 1e-9, Clip{24, 1, 5}},
		{"before zero", 30, -3, 3, Clip{30, -3, 7}},
		{"no rate", 0, 0, 9, Clip{24, 0, 10}},
		{"a rate that is none", math.Inf(1), 0, 9, Clip{24, 0, 10}},
		{"backwards", 24, 9, 0, Clip{24, 0, 0}},
		{"longer than any shot", 24, 0, 1e9, Clip{24, 0, 0}},
		{"no numbers", 24, math.NaN(), 9, Clip{24, 0, 0}},
	} {
		if got := Of(&scene.Scene{Rate: tt.rate, First: tt.first, Last: tt.last}); got != tt.want {
			t.Errorf("%s: %+v, want %+v", tt.name, got, tt.want)
		}
	}
}

func TestIndex(t *testing.T) {
	c := Clip{Rate: 24, First: 10, N: 5}
	for frame, want := range map[float64]int{-3: 0, 10: 0, 10.9: 0, 11: 1, 11 - 1e-9: 1, 14: 4, 99: 4} {
		if got := c.Index(frame); got != want {
			t.Errorf("frame %g has index %d, want %d", frame, got, want)
		}
	}
	if c.Frame(3) != 13 {
		t.Errorf("index 3 is frame %g", c.Frame(3))
	}
	empty := Clip{Rate: 24}
	if empty.Index(7) != 0 {
		t.Error("an index in a clip without frames")
	}
}

func TestWindow(t *testing.T) {
	for _, tt := range []struct {
		rate, seconds float64
		want          int
	}{{24, 0.25, 6}, {25, 0.25, 6}, {30, 0.1, 3}, {24, 0, 1}, {12, 1.0 / 24, 1}, {120, 1.0 / 24, 5}} {
		if got := Window(tt.rate, tt.seconds); got != tt.want {
			t.Errorf("%g s at %g: %d frames, want %d", tt.seconds, tt.rate, got, tt.want)
		}
	}
}
