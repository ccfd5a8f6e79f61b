package designed

import (
	"math"
	"testing"
)

// Tolerances: of sums over fine steps, and of values that have a closed form.
const (
	summed = 2e-3
	closed = 1e-12
)

// TestPeakToMean holds the profiles' peak speed against its closed form.
func TestPeakToMean(t *testing.T) {
	for _, c := range []struct {
		name string
		p    Profile
		want float64
	}{
		// T. Flash, N. Hogan, J. Neurosci. 5 (1985) 1688-1703.
		{"minimum jerk", MinimumJerk, 1.875},
		// Derivatives of the formulas.
		{"half cosine", HalfCosine, math.Pi / 2},
		{"smooth", Smooth, 1.5},
		{"even", Even, 1},
		{"trapezoid", Trapezoid(0.2), 1 / 0.8},
	} {
		const n = 4000
		peak := 0.0
		for i := range n {
			a, b := float64(i)/n, float64(i+1)/n
			peak = max(peak, (c.p(b)-c.p(a))*n)
		}
		if math.Abs(peak-c.want) > summed {
			t.Errorf("%s: peak-to-mean %.4f, wanted %.4f", c.name, peak, c.want)
		}
		if math.Abs(c.p(0)) > closed || math.Abs(c.p(1)-1) > closed {
			t.Errorf("%s runs from %g to %g, wanted 0 to 1", c.name, c.p(0), c.p(1))
		}
	}
}

// TestMinimumJerkAcceleration: the largest acceleration is 10/sqrt(3) at
// s = (3 - sqrt 3)/6 (the same source).
func TestMinimumJerkAcceleration(t *testing.T) {
	const h = 1e-4
	s := (3 - math.Sqrt(3)) / 6
	acc := (MinimumJerk(s+h) - 2*MinimumJerk(s) + MinimumJerk(s-h)) / (h * h)
	if want := 10 / math.Sqrt(3); math.Abs(acc-want) > 1e-4 {
		t.Errorf("acceleration %.6f, wanted %.6f", acc, want)
	}
}

func TestStuttered(t *testing.T) {
	p := Stuttered(MinimumJerk, 0.5, 0.17, 0.15)
	const h = 1e-3
	speed := func(s float64) float64 { return (p(s+h) - p(s-h)) / (2 * h) }
	if dip := speed(0.5) / 1.875; math.Abs(dip-0.15) > 0.02 {
		t.Errorf("the dip keeps %.3f of the speed, wanted 0.15", dip)
	}
	for _, s := range []float64{0.05, 0.1, 0.9, 0.95} {
		if math.Abs(p(s)-MinimumJerk(s)) > closed {
			t.Errorf("the profile is changed at %g", s)
		}
	}
	for s := 0.0; s < 1; s += 0.01 {
		if p(s+0.01) < p(s) {
			t.Errorf("the profile runs backwards at %.2f", s)
		}
	}
}

func TestSignals(t *testing.T) {
	line := NewLine(1)
	if !line.To(1, 1, 3, Accent{Back: 0.1}) || line.To(1.5, 1, 9, Accent{}) || line.Value() != 3 || line.End() != 2 {
		t.Errorf("a line stands at %g at %g s", line.Value(), line.End())
	}
	for _, c := range []struct {
		name string
		s    Signal
		t    float64
		want float64
	}{
		{"stroke before", Stroke(Even, 1, 2, 4), 0.5, 0},
		{"stroke inside", Stroke(Even, 1, 2, 4), 1.25, 1},
		{"stroke after", Stroke(Even, 1, 2, 4), 3, 4},
		{"swell middle", Swell(0, 2, 5), 1, 5},
		{"swell end", Swell(0, 2, 5), 2, 0},
		{"arch middle", Arch(0, 2, 5), 1, 5},
		{"through hold", Through(Even, Pose{0, 1}, Pose{1, 1}, Pose{2, 3}), 0.5, 1},
		{"through", Through(Even, Pose{0, 1}, Pose{1, 1}, Pose{2, 3}), 1.5, 2},
		{"wave", Wave(2, 4, 0), 1, 2},
		{"late", Late(1, Wave(2, 4, 0)), 2, 2},
		{"times", Times(3, Still(2)), 0, 6},
		{"add with nothing", Add(nil, Still(2), nil), 0, 2},
		{"settle start", Settle(1, 0.5, 3, 0.5, 3), 1, 0},
		{"settle first", Settle(1, 0.5, 3, 0.5, 3), 1.25, 3},
		{"settle second", Settle(1, 0.5, 3, 0.5, 3), 1.75, -1.5},
		{"settle end", Settle(1, 0.5, 3, 0.5, 3), 3, 0},
		{"blink shut", Blink(9, 1), 1 + 2.5/24, 9},
		{"blink open", Blink(9, 1), 1 + 7./24, 0},
		{"stepped", Stepped(Stroke(Even, 0, 1, 12), 4), 0.49, 3},
		{"line back", line.Signal(), 1.25, 0.8},
		{"line end", line.Signal(), 2, 3},
		{"no signal", Times(1, nil), 3, 0},
	} {
		if got := c.s(c.t); math.Abs(got-c.want) > closed {
			t.Errorf("%s: %g at %g s, wanted %g", c.name, got, c.t, c.want)
		}
	}
}

func TestNoise(t *testing.T) {
	s := Noise(3, 2, 1, 6)
	sum := 0.0
	const n = 20000
	for i := range n {
		v := s(float64(i) * 0.01)
		sum += v * v
	}
	if rms := math.Sqrt(sum / n); math.Abs(rms-2) > 0.1 {
		t.Errorf("root mean square %.3f, wanted 2", rms)
	}
}

// TestSeed holds the generator against SplitMix64's first value for seed 0 (from
// memory).
func TestSeed(t *testing.T) {
	var s Seed
	if got := s.Next(); got != 0xe220a8397b1dcdaf {
		t.Errorf("first value %#x, wanted 0xe220a8397b1dcdaf", got)
	}
}
