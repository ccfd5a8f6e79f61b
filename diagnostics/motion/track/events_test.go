package track

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

func TestEventsOfOneMove(t *testing.T) {
	still := make([]float64, 8)
	k := fromSpacing(slices.Concat(still, []float64{1, 2, 2, 1}, still)...)
	if got, want := k.Events(), []Event{{Start, 8}, {Stop, 12}}; !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}

func TestClipThatMovesThroughHasNoStart(t *testing.T) {
	if got := fromSpacing(1, 1, 1, 1).Events(); len(got) != 0 {
		t.Errorf("%v", got)
	}
}

func TestTurns(t *testing.T) {
	for _, rate := range rates {
		// Extremes at 0.5 s and 1.5 s.
		k := along(rate, 2, func(s float64) float64 { return math.Sin(math.Pi * s) })
		var at []float64
		for _, e := range k.Events() {
			if e.Kind == Turn {
				at = append(at, float64(e.Frame)/rate)
			}
		}
		if len(at) == 2 && about(at[0], 0.5, 0.5/rate+1e-9) && about(at[1], 1.5, 0.5/rate+1e-9) {
			continue
		}
		t.Errorf("rate %g: turns at %v s, events %v", rate, at, k.Events())
	}
}

func TestTurnByAngle(t *testing.T) {
	for _, c := range []struct {
		degrees float64
		want    int
	}{{0, 0}, {60, 0}, {89, 0}, {91, 1}, {180, 1}} {
		a := c.degrees * math.Pi / 180
		k := sampled(24, 1, func(s float64) r3.Vec {
			if s <= 0.5 {
				return r3.Vec{X: s}
			}
			return r3.Vec{X: 0.5 + (s-0.5)*math.Cos(a), Y: (s - 0.5) * math.Sin(a)}
		})
		if got := k.Events(); len(got) != c.want || c.want == 1 && got[0] != (Event{Turn, 12}) {
			t.Errorf("%g degrees: %v", c.degrees, got)
		}
	}
}

func TestEveryReversalOfATremorIsATurn(t *testing.T) {
	k := frames(0, 1, 0, 1, 0, 1, 0, 1)
	k.GivenStep = 1
	if got := k.Events(); len(got) != 6 {
		t.Errorf("%v", got)
	}
}

func TestTurnInARestIsNoise(t *testing.T) {
	still := []float64{0, 1e-4, -1e-4, 1e-4, -1e-4, 1e-4, -1e-4, 0}
	k := fromSpacing(slices.Concat([]float64{1, 1, 1, 1}, still, []float64{1, 1, 1, 1})...)
	if got, want := k.Events(), []Event{{Stop, 4}, {Start, 12}}; !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}

// A large and a small stroke that begin and end together leave their rests at
// different frames, but have one time.
func TestEventTimeIsFreeOfSize(t *testing.T) {
	for _, rate := range rates {
		var starts, stops []float64
		for _, size := range []float64{0.1, 0.3, 1} {
			k := along(rate, 3, func(s float64) float64 {
				x := min(max((s-1)/0.5, 0), 1)
				return size * x * x * x * (10 + x*(6*x-15))
			})
			for _, e := range k.Events() {
				if e.Kind == Start {
					starts = append(starts, k.EventTime(e)/rate)
				} else {
					stops = append(stops, k.EventTime(e)/rate)
				}
			}
		}
		// A minimum-jerk stroke is at a tenth of its peak speed after 9 % of its
		// time: v/peak = 16 x^2 (1-x)^2 = 0.1 at x = 0.0867.
		for i := range starts {
			if math.Abs(starts[i]-1-0.5*0.0867) > 0.5/24 || math.Abs(starts[i]-starts[0]) > 0.1/24 {
				t.Errorf("rate %g: starts at %v", rate, starts)
			}
			if math.Abs(stops[i]-1.5+0.5*0.0867) > 0.5/24 || math.Abs(stops[i]-stops[0]) > 0.1/24 {
				t.Errorf("rate %g: stops at %v", rate, stops)
			}
		}
		if len(starts) != 3 || len(stops) != 3 {
			t.Errorf("rate %g: %v %v", rate, starts, stops)
		}
	}
}
