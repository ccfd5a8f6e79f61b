package track

import (
	"math"
	"testing"
)

// crossCorrelation is that of two profiles of one length at a lag of k, see BestLag;
// of a profile with itself the autocorrelation.
func crossCorrelation(a, b []float64, k int) float64 {
	ma, mb := meanOf(a), meanOf(b)
	return crossSum(a, b, ma, mb, k) / math.Sqrt(crossSum(a, a, ma, ma, 0)*crossSum(b, b, mb, mb, 0))
}

// From the NIST Statistical Reference Datasets: the lag-1 autocorrelation of
// NumAcc1 is -0.5 and of NumAcc4 -0.999, both exact.
func TestAutocorrelationOfNIST(t *testing.T) {
	if got := crossCorrelation([]float64{10000001, 10000003, 10000002}, []float64{10000001, 10000003, 10000002}, 1); !about(got, -0.5, 1e-12) {
		t.Errorf("NumAcc1: %.15f, want -0.5", got)
	}
	// The data themselves hold 1e-9 of 0.1.
	if got := crossCorrelation(numAcc4(), numAcc4(), 1); !about(got, -0.999, 1e-8) {
		t.Errorf("NumAcc4: %.15f, want -0.999", got)
	}
}

func TestCrossCorrelation(t *testing.T) {
	a := []float64{0, 1, 4, 1, 0, 0, 0}
	b := []float64{0, 0, 0, 1, 4, 1, 0}
	if got := crossCorrelation(a, a, 0); !about(got, 1, 1e-12) {
		t.Errorf("with itself: %g, want 1", got)
	}
	if crossCorrelation(a, b, 7) != 0 || crossCorrelation(a, b, -7) != 0 {
		t.Error("a lag of the whole length")
	}
	if crossCorrelation(a, b, 2) < crossCorrelation(a, b, 1) || crossCorrelation(a, b, 2) != crossCorrelation(b, a, -2) {
		t.Error("not largest at its lag, or not symmetric")
	}
}

// A tail's tip that follows its root: the lag in seconds is the same at every
// rate, between frames too.
func TestLagOfAFollower(t *testing.T) {
	for _, rate := range rates {
		for _, lag := range []float64{0, 1.0 / 24, 0.1, 0.33, -0.05, -0.2} {
			lead := along(rate, 4, func(s float64) float64 { return minimumJerk((s-1)/0.7) + 0.5*minimumJerk((s-2)/0.5) })
			follow := along(rate, 4, func(s float64) float64 {
				s -= lag
				return 2*minimumJerk((s-1)/0.7) + minimumJerk((s-2)/0.5)
			})
			whole, ok := BestLag(lead.Speed(), follow.Speed(), rate)
			if !ok || !about(whole.Seconds, lag, 0.005) || whole.Correlation < 0.95 || math.Abs(float64(whole.Frames)-lag*rate) > 1 {
				t.Errorf("rate %g: a lag of %g s: %+v %v", rate, lag, whole, ok)
			}
			for _, s := range lead.Strokes() {
				one, ok := lead.LagBehind(s, follow)
				if !ok || !about(one.Seconds, lag, 0.01) || one.Correlation < 0.95 {
					t.Errorf("rate %g: a lag of %g s in %d-%d: %+v %v", rate, lag, s.First, s.Last, one, ok)
				}
			}
		}
	}
}

func TestNoLag(t *testing.T) {
	move := along(24, 2, swing(1))
	still, steady := along(24, 2, func(float64) float64 { return 0 }), along(24, 2, func(s float64) float64 { return 3 * s })
	s := move.Strokes()[0]
	for name, k := range map[string]*Track{"at rest": still, "even": steady, "of another length": frames(0, 1, 2)} {
		if l, ok := BestLag(move.Speed(), k.Speed(), 24); ok {
			t.Errorf("%s: %+v", name, l)
		}
		if l, ok := move.LagBehind(s, k); ok {
			t.Errorf("%s, in a stroke: %+v", name, l)
		}
	}
	if _, ok := BestLag(nil, nil, 24); ok {
		t.Error("a lag between nothing")
	}
	if _, ok := BestLag(move.Speed(), move.Speed(), 0); ok {
		t.Error("a lag without a rate")
	}
}

// A file may claim any rate; the lags tried stay few.
func TestLagAtAnAbsurdRate(t *testing.T) {
	v := make([]float64, 20000)
	for i := range v {
		v[i] = math.Sin(float64(i) / 900)
	}
	if l, ok := BestLag(v, v, 1e9); !ok || l.Frames != 0 {
		t.Errorf("%+v %v", l, ok)
	}
}
