package track

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

func TestCubicHasNoResidual(t *testing.T) {
	x := make([]float64, 20)
	for i := range x {
		s := float64(i) - 7
		x[i] = 1e6 + 3 - 2*s + 0.5*s*s - 0.1*s*s*s
	}
	for i := range x {
		if r := cubicResidual(x, i); !about(r, 0, 1e-8) {
			t.Errorf("residual %g at %d", r, i)
		}
	}
	if cubicResidual(nil, 0) != 0 || cubicResidual([]float64{1, 5, 1}, 1) != 0 {
		t.Error("a residual without neighbours")
	}
}

// The cubic through 16, 1, 1, 16 is (4 (1+1) - (16+16)) / 6 = -4 at 0, and a
// fourth power differs elsewhere by a cubic only: the residual is 4 everywhere.
func TestResidualOfAFourthPower(t *testing.T) {
	x := make([]float64, 9)
	for i := range x {
		x[i] = math.Pow(float64(i), 4)
	}
	for i := 2; i < 7; i++ {
		if r := cubicResidual(x, i); !about(r, 4, 1e-9) {
			t.Errorf("residual %g at %d, want 4", r, i)
		}
	}
}

func TestSpikeSignature(t *testing.T) {
	k := frames(make([]float64, 21)...)
	k.Y[10] = 0.3
	for d, want := range map[int]float64{0: 1, 1: -2.0 / 3, -1: -2.0 / 3, 2: 1.0 / 6, -2: 1.0 / 6, 3: 0} {
		if r := k.residual(10 + d); !about(r.Y, 0.3*want, 1e-12) || r.X != 0 {
			t.Errorf("%d frames from the spike: %v, want %g of it", d, r, want)
		}
	}
}

func TestSpikes(t *testing.T) {
	move := func(s float64) r3.Vec { return r3.Vec{X: 0.6 * minimumJerk(s/1.5), Y: 0.2 * math.Sin(2*s)} }
	for _, rate := range rates {
		for _, size := range []float64{0.025, -0.05} {
			for _, at := range []int{3, 12, 20, 30} {
				k := sampled(rate, 1.5, move)
				k.X[at] += size * 0.6
				k.Z[at] += size * 0.8
				got := k.Spikes(0.005)
				if len(got) != 1 || got[0].Frame != at || !about(got[0].Size, math.Abs(size), 0.003) {
					t.Errorf("rate %g: spike of %g at %d: %+v", rate, size, at, got)
				}
			}
		}
		if got := sampled(rate, 1.5, move).Spikes(0.005); len(got) != 0 {
			t.Errorf("rate %g: spikes in a smooth move: %+v", rate, got)
		}
	}
}

func TestNoSpikes(t *testing.T) {
	corner := sampled(24, 1, func(s float64) r3.Vec { return r3.Vec{X: math.Abs(s - 0.5)} })
	step := sampled(24, 1, func(s float64) r3.Vec { return r3.Vec{X: math.Floor(2*s) / 4} })
	two := frames(slices.Concat(make([]float64, 10), []float64{1, 1}, make([]float64, 10))...)
	tremor := frames(make([]float64, 40)...)
	for i := range tremor.X {
		tremor.X[i] = 0.02 * float64(i%2)
	}
	quiet := frames(make([]float64, 21)...)
	quiet.X[10], quiet.Noise = 0.01, 0.02
	for name, k := range map[string]*Track{"a corner": corner, "a step": step, "two frames": two, "a tremor": tremor, "noise": quiet, "nothing": frames()} {
		if got := k.Spikes(0.005); len(got) != 0 {
			t.Errorf("%s: %+v", name, got)
		}
	}
}
