package track

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// arc goes round a circle of radius r through an angle in degrees in a second,
// in a tilted plane.
func arc(r, degrees float64) func(s float64) r3.Vec {
	e1, e2 := r3.Unit(r3.Vec{X: 1, Y: 2, Z: 3}), r3.Unit(r3.Vec{X: 2, Y: -1})
	return func(s float64) r3.Vec {
		a := degrees * math.Pi / 180 * s
		return r3.Add(r3.Scale(r*math.Cos(a), e1), r3.Scale(r*math.Sin(a), e2))
	}
}

// whole is the stroke over the whole track.
func whole(k *Track) Stroke { return k.Measure(0, k.Len()-1) }

func TestArcDepthOfCircles(t *testing.T) {
	for _, rate := range rates {
		for _, c := range []struct{ degrees, want float64 }{
			// tan(a/4)/2.
			{0, 0}, {30, 0.0658262}, {60, 0.1339746}, {90, 0.2071068}, {180, 0.5},
		} {
			k := sampled(rate, 1, arc(0.4, c.degrees))
			// With an odd number of spacings the middle lies between frames: the
			// depth there is less by about (half a spacing)^2.
			if got := k.ArcDepth(whole(k)); !about(got, c.want, 2e-3) || rate == 24 && !about(got, c.want, 5e-8) {
				t.Errorf("rate %g: %g degrees: depth %g, want %g", rate, c.degrees, got, c.want)
			}
		}
	}
}

func TestPathLengthAndTravel(t *testing.T) {
	k := sampled(24, 1, arc(1, 180))
	s := whole(k)
	// A polygon of 24 sides in half a circle: 48 sin(pi/48).
	if want := 48 * math.Sin(math.Pi/48); !about(s.Length, want, 1e-12) || !about(k.PathLength(0, 24), want, 1e-12) {
		t.Errorf("length %g, want %g", s.Length, want)
	}
	if !about(k.Travel(s), s.Length/2, 1e-12) {
		t.Errorf("travel %g", k.Travel(s))
	}
	round := sampled(24, 1, arc(1, 360))
	if r := whole(round); round.Travel(r) != 0 || round.ArcDepth(r) != 0 {
		t.Errorf("a path that ends where it began: travel %g depth %g", round.Travel(r), round.ArcDepth(r))
	}
	line := along(24, 1, minimumJerk)
	if r := whole(line); !about(line.Travel(r), 1, 1e-12) || line.ArcDepth(r) != 0 {
		t.Errorf("a straight path: travel %g depth %g", line.Travel(r), line.ArcDepth(r))
	}
	if line.PathLength(-5, 100) != line.PathLength(0, 24) || line.PathLength(9, 3) != 0 {
		t.Error("PathLength does not cut its range")
	}
}

func TestDepthOfACorner(t *testing.T) {
	k := sampled(24, 1, func(s float64) r3.Vec { return r3.Vec{X: s, Y: max(0, 0.25-math.Abs(s-0.25))} })
	if d := k.ArcDepth(whole(k)); !about(d, 0.25, 1e-12) {
		t.Errorf("depth %g, want 0.25", d)
	}
}

func TestTurningOfACircle(t *testing.T) {
	for _, rate := range rates {
		k := sampled(rate, 1, arc(1, 90))
		got := k.Turning(whole(k))
		// Turns at inner frames only: a spacing's worth is missing.
		if !about(got.Degrees, 90*(1-1/rate), 1e-6) || !about(got.Early, 0.25, 1.0/rate) || !about(got.Late, 0.25, 1.0/rate) {
			t.Errorf("rate %g: %+v", rate, got)
		}
	}
}

func TestTurningAtOneEnd(t *testing.T) {
	// Straight for 3/4 of a second, then a quarter of a circle.
	path := func(s float64) r3.Vec {
		if s < 0.8 {
			return r3.Vec{X: s}
		}
		a := (s - 0.8) / 0.2 * math.Pi / 2
		r := 0.2 * 2 / math.Pi
		return r3.Vec{X: 0.8 + r*math.Sin(a), Y: r * (1 - math.Cos(a))}
	}
	for _, rate := range rates {
		k := sampled(rate, 1, path)
		if got := k.Turning(whole(k)); got.Late < 0.95 || got.Early > 1e-9 {
			t.Errorf("rate %g: late %g early %g", rate, got.Late, got.Early)
		}
	}
	line := along(24, 1, minimumJerk)
	if got := line.Turning(whole(line)); got != (Turning{}) {
		t.Errorf("a straight path turns: %+v", got)
	}
}

func TestBreakdown(t *testing.T) {
	k := frames(0, 2, 5, 11, 10)
	for _, c := range []struct {
		f    int
		want float64
	}{{0, 0}, {1, 0.2}, {2, 0.5}, {3, 1.1}, {4, 1}} {
		if got, ok := k.Breakdown(0, c.f, 4); !ok || !about(got, c.want, 1e-12) {
			t.Errorf("frame %d: %g %v, want %g", c.f, got, ok, c.want)
		}
	}
	for _, c := range [][3]int{{0, 1, 0}, {-1, 1, 2}, {0, 5, 4}} {
		if _, ok := k.Breakdown(c[0], c[1], c[2]); ok {
			t.Errorf("%v: ok", c)
		}
	}
}
