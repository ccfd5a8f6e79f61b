package track

import (
	"math"
	"slices"
	"testing"
)

func TestShortTracksRest(t *testing.T) {
	k := frames()
	if len(k.Rests()) != 0 || len(k.Strokes()) != 0 || len(k.Events()) != 0 || len(k.Holds()) != 0 {
		t.Error("an empty clip has something in it")
	}
	k = frames(5)
	if !slices.Equal(k.Rests(), []Rest{{}}) || len(k.Strokes()) != 0 || len(k.Events()) != 0 {
		t.Errorf("one frame: %v %v", k.Rests(), k.Strokes())
	}
	if _, ok := k.RestAt(0); !ok {
		t.Error("no rest at the only frame")
	}
}

// One move between two holds: the same stroke, in seconds, at every rate.
func TestOneMove(t *testing.T) {
	for _, rate := range rates {
		k := along(rate, 2.5, swing(1.5))
		if len(k.Strokes()) != 1 || len(k.Rests()) != 2 || len(k.Holds()) != 2 {
			t.Fatalf("rate %g: strokes %v, rests %v", rate, k.Strokes(), k.Rests())
		}
		s := k.Strokes()[0]
		// Leaves 5 % of 1.875 at s = 0.0595 and 0.9405: 0.589 and 1.911 s.
		if a, b := float64(s.First)/rate, float64(s.Last)/rate; !about(a, 0.589, 1/rate) || !about(b, 1.911, 1/rate) {
			t.Errorf("rate %g: stroke from %g to %g s", rate, a, b)
		}
		if !about((float64(s.Peak)+0.5)/rate, 1.25, 0.5/rate+1e-9) || !about(s.PeakSpeed, 1.25, 0.01) {
			t.Errorf("rate %g: peak %d at %g/s", rate, s.Peak, s.PeakSpeed)
		}
		if !s.FromRest || !s.ToRest || !about(s.EaseIn, s.EaseOut, 1/rate) {
			t.Errorf("rate %g: eases %g and %g s", rate, s.EaseIn, s.EaseOut)
		}
		// 90 % of the peak at s(1-s) = 0.2372: s = 0.3869, 1.080 s.
		if !about(s.EaseIn, 1.080-float64(s.First)/rate, 0.012) {
			t.Errorf("rate %g: ease-in %g s from %d", rate, s.EaseIn, s.First)
		}
		if !about(s.Length, 1, 0.006) || !about(s.Chord, s.Length, 1e-9) || !about(s.MeanSpeed, s.Length*rate/float64(s.Last-s.First), 1e-9) {
			t.Errorf("rate %g: length %g chord %g mean %g", rate, s.Length, s.Chord, s.MeanSpeed)
		}
	}
}

func TestMoveBackwardsHasTheSameFrames(t *testing.T) {
	k := along(24, 4, func(s float64) float64 { return minimumJerk(math.Pow(min(max(s-0.7, 0), 1), 2)) })
	x := slices.Clone(k.X)
	slices.Reverse(x)
	b := frames(x...)
	if len(k.Strokes()) != 1 || len(b.Strokes()) != 1 {
		t.Fatalf("strokes %v and %v", k.Strokes(), b.Strokes())
	}
	f, r, n := k.Strokes()[0], b.Strokes()[0], k.Len()-1
	if f.First != n-r.Last || f.Last != n-r.First {
		t.Errorf("frames %d-%d forwards, %d-%d backwards", f.First, f.Last, n-r.Last, n-r.First)
	}
}

func TestRestsByQuality(t *testing.T) {
	for _, c := range []struct {
		quality Quality
		speed   float64 // units a second
		rests   bool
	}{
		{Position, 0.04, true}, {Position, 0.06, false},
		{Rotation, 2.9, true}, {Rotation, 3.1, false},
		{Value, 0.09, true}, {Value, 0.11, false},
	} {
		k := along(24, 2, func(s float64) float64 { return c.speed * s })
		k.Quality = c.quality
		if got := len(k.Strokes()) == 0; got != c.rests {
			t.Errorf("quality %d at %g/s: rest %v, want %v", c.quality, c.speed, got, c.rests)
		}
	}
}

// A slow drift between a tenth and a twentieth of the busy speed goes on as
// motion when it follows a move, and is rest when it stands alone.
func TestHysteresis(t *testing.T) {
	still := make([]float64, 12)
	s := slices.Concat(still, []float64{1, 1, 1, 1, 1, 1}, slices.Repeat([]float64{0.07}, 6), still, slices.Repeat([]float64{0.07}, 6), still)
	k := fromSpacing(s...)
	if len(k.Strokes()) != 1 || k.Strokes()[0].First != 12 || k.Strokes()[0].Last != 24 {
		t.Errorf("strokes %+v", k.Strokes())
	}
	if !slices.Equal(k.Rests(), []Rest{{0, 12, true}, {24, 54, true}}) {
		t.Errorf("rests %v", k.Rests())
	}
}

func TestHoldLength(t *testing.T) {
	for _, c := range []struct {
		rate   float64
		frames int
		hold   bool
	}{{24, 5, false}, {24, 6, true}, {25, 6, true}, {60, 14, false}, {60, 15, true}, {120, 29, false}, {120, 30, true}} {
		// Too slow for a hitch: 0.24 a second.
		move := slices.Repeat([]float64{0.24 / c.rate}, int(c.rate/4))
		k := fromSpacing(slices.Concat(move, make([]float64, c.frames), move)...)
		k.Rate = c.rate
		if len(k.Rests()) != 1 || k.Rests()[0].Hold != c.hold || k.Rests()[0].Last-k.Rests()[0].First != c.frames {
			t.Errorf("rate %g: %d still frames: %v, want hold %v", c.rate, c.frames, k.Rests(), c.hold)
		}
	}
}

// Change up to twice the noise is no motion, however large it is against the
// rest of the clip.
func TestNoiseIsRest(t *testing.T) {
	x := make([]float64, 96)
	for i := range x {
		x[i] = 0.01 * float64(i*7%3-1)
	}
	k := frames(x...)
	k.Noise = 0.01
	if len(k.Strokes()) != 0 || len(k.Rests()) != 1 || len(k.Events()) != 0 {
		t.Errorf("strokes %v, events %v", k.Strokes(), k.Events())
	}
}

func TestStrokesAreCutAtSlowMinima(t *testing.T) {
	for _, rate := range rates {
		// A swing there and on, slowing to a share of its speed at 1 s.
		for _, c := range []struct {
			share float64
			want  int
		}{{0.2, 2}, {0.45, 2}, {0.56, 1}, {0.9, 1}} {
			a := (1 - c.share) / (1 + c.share) // speed 1 - a cos
			k := along(rate, 2, func(s float64) float64 { return s + a*math.Sin(2*math.Pi*(s-0.5))/(2*math.Pi) })
			if len(k.Strokes()) != c.want {
				t.Errorf("rate %g: slowing to %g: %d strokes, want %d", rate, c.share, len(k.Strokes()), c.want)
				continue
			}
			if s := k.Strokes(); c.want == 2 && (!about(float64(s[0].Last)/rate, 1, 1e-9) || s[0].Last != s[1].First || s[0].ToRest || s[1].FromRest) {
				t.Errorf("rate %g: cut at %d: %+v", rate, s[0].Last, s)
			}
		}
	}
}

func TestTurnCutsAtItsFrame(t *testing.T) {
	for _, rate := range rates {
		k := along(rate, 2, func(s float64) float64 { return math.Sin(math.Pi * s) })
		s := k.Strokes()
		if len(s) != 3 || !about(float64(s[0].Last)/rate, 0.5, 0.5/rate+1e-9) || !about(float64(s[1].Last)/rate, 1.5, 0.5/rate+1e-9) {
			t.Errorf("rate %g: strokes %+v", rate, s)
		}
	}
}

func TestStrokeAtAndRestAt(t *testing.T) {
	still := make([]float64, 8)
	k := fromSpacing(slices.Concat(still, []float64{0.005, 0.01, 0.005, 0.0015, 0.005, 0.01, 0.005}, still)...)
	if len(k.Strokes()) != 2 {
		t.Fatalf("strokes %+v", k.Strokes())
	}
	for _, c := range []struct{ frame, stroke, rest int }{
		{-1, -1, -1}, {0, -1, 0}, {7, -1, 0}, {8, 8, 0}, {10, 8, -1}, {11, 11, -1}, {12, 11, -1}, {15, 11, 15}, {16, -1, 15}, {23, -1, 15}, {24, -1, -1},
	} {
		s, ok := k.StrokeAt(c.frame)
		if ok != (c.stroke >= 0) || ok && s.First != c.stroke {
			t.Errorf("StrokeAt(%d) = %+v, %v", c.frame, s, ok)
		}
		r, ok := k.RestAt(c.frame)
		if ok != (c.rest >= 0) || ok && r.First != c.rest {
			t.Errorf("RestAt(%d) = %+v, %v", c.frame, r, ok)
		}
	}
}

// A clip on twos moves through its repeats, and begins and ends with its first
// and last change.
func TestStrokeOnTwos(t *testing.T) {
	x := []float64{0, 0, 0, 0, 0, 0, 0, 0}
	for i := range 12 {
		v := minimumJerk(float64(i+1) / 12)
		x = append(x, v, v)
	}
	x = append(x, 1, 1, 1, 1, 1, 1)
	k := frames(x...)
	s := k.Strokes()
	if k.Stepping() != 2 || len(s) != 1 || len(k.Rests()) != 2 {
		t.Fatalf("on %d: strokes %+v, rests %v", k.Stepping(), s, k.Rests())
	}
	if s[0].First < 7 || s[0].First > 9 || s[0].Last < 27 || s[0].Last > 30 {
		t.Errorf("stroke %d-%d", s[0].First, s[0].Last)
	}
}

func BenchmarkCut(b *testing.B) {
	k := along(24, 10000.0/24, func(s float64) float64 { return math.Sin(3*s) + 0.3*math.Sin(7.1*s) })
	for b.Loop() {
		c := Track{X: k.X, Y: k.Y, Z: k.Z, Rate: 24}
		c.Strokes()
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/10000, "ns/frame")
}
