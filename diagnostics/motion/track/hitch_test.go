package track

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// even returns spacings of 1/24, one figure size a second, with some replaced.
func even(n int, at int, dip ...float64) []float64 {
	s := slices.Repeat([]float64{1}, n)
	copy(s[at:], dip)
	for i := range s {
		s[i] /= 24
	}
	return s
}

func TestHitch(t *testing.T) {
	for _, c := range []struct {
		name string
		s    []float64
		want bool
	}{
		{"one slow spacing", even(24, 12, 0.3), true},
		{"a dead frame", even(24, 12, 0), true},
		{"three slow spacings", even(24, 12, 0.5, 0.3, 0.5), true},
		{"at the limit", even(24, 12, 0.61), false},
		{"too long", even(24, 10, 0.5, 0.4, 0.3, 0.3, 0.3, 0.3, 0.4, 0.5), false},
		{"unequal peaks", append(even(12, 11, 0.3), even(12, 0, slices.Repeat([]float64{2.2}, 12)...)...), false},
		{"backwards", even(24, 12, -0.3), false},
		{"even", even(24, 12), false},
	} {
		k := fromSpacing(c.s...)
		h := k.Hitches()
		if (len(h) == 1) != c.want {
			t.Errorf("%s: %+v", c.name, h)
		}
		if c.want && (len(k.Strokes()) != 1 || len(k.Rests()) != 0) {
			t.Errorf("%s: the hitch cuts: %+v", c.name, k.Strokes())
		}
	}
}

func TestHitchPlace(t *testing.T) {
	h := fromSpacing(even(24, 12, 0.3)...).Hitches()
	if len(h) != 1 || h[0].First != 12 || h[0].Last != 13 || h[0].Before != 11 || h[0].After != 13 || !about(h[0].Depth, 0.3, 1e-9) {
		t.Errorf("%+v", h)
	}
}

func TestSlowMoveHasNoHitch(t *testing.T) {
	s := even(24, 12, 0.3)
	for i := range s {
		s[i] *= 0.29
	}
	if h := fromSpacing(s...).Hitches(); len(h) != 0 {
		t.Errorf("%+v", h)
	}
}

// A dip in a corner is the corner's: the direction is not kept.
func TestHitchKeepsDirection(t *testing.T) {
	for _, c := range []struct {
		degrees float64
		want    int
	}{{0, 1}, {25, 1}, {40, 1}, {50, 0}, {90, 0}} {
		s := even(24, 12, 0.3)
		var at r3.Vec
		k := frames(make([]float64, 25)...)
		for i := range s {
			a := 0.0
			if i > 12 {
				a = c.degrees * math.Pi / 180
			}
			at = r3.Add(at, r3.Vec{X: s[i] * math.Cos(a), Y: s[i] * math.Sin(a)})
			k.Put(i+1, at)
		}
		if len(k.Hitches()) != c.want {
			t.Errorf("a corner of %g degrees: %+v", c.degrees, k.Hitches())
		}
	}
}

// A smooth pair of moves is no stutter; a broken tangent in the middle of one
// is, at any rate.
func TestHitchAtEveryRate(t *testing.T) {
	for _, rate := range rates {
		pair := along(rate, 3, func(s float64) float64 { return minimumJerk((s-0.2)/0.8) + minimumJerk((s-1)/0.8) })
		if len(pair.Hitches()) != 0 {
			t.Errorf("rate %g: two moves hitch: %+v", rate, pair.Hitches())
		}
		// Time stands nearly still around 0.5 s.
		broken := along(rate, 1, func(s float64) float64 {
			return minimumJerk(s) - 0.05*math.Tanh((s-0.5)/0.03)
		})
		if len(broken.Hitches()) != 1 || len(broken.Strokes()) != 1 {
			t.Errorf("rate %g: hitches %+v, strokes %+v", rate, broken.Hitches(), broken.Strokes())
		}
	}
}
