package checks

import (
	"math"
	"math/rand/v2"
	"testing"
)

func TestLongestWithin(t *testing.T) {
	for _, c := range []struct {
		name  string
		v     []float64
		at, n int
	}{
		{"empty", nil, 0, 0},
		{"one", []float64{3}, 0, 1},
		{"all even", []float64{1, 1, 1, 1}, 0, 4},
		{"middle", []float64{1, 2, 4, 4, 4.1, 3.9, 2, 1}, 2, 4},
		{"end", []float64{9, 1, 1.01, 1.02}, 1, 3},
		{"zeros are no motion", []float64{0, 0, 0, 5}, 3, 1},
	} {
		at, n, _ := longestWithin(c.v, 0.1)
		if at != c.at || n != c.n {
			t.Errorf("%s: got %d+%d, want %d+%d", c.name, at, n, c.at, c.n)
		}
	}
}

func TestLongestWithinAgainstTryingAll(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 300 {
		v := make([]float64, 1+r.IntN(30))
		for i := range v {
			v[i] = 1 + 0.12*r.Float64()
		}
		want := 0
		for a := range v {
			for b := a + 1; b <= len(v); b++ {
				lo, hi := math.Inf(1), 0.0
				for _, x := range v[a:b] {
					lo, hi = min(lo, x), max(hi, x)
				}
				if hi-lo <= 0.1*mean(v[a:b]) {
					want = max(want, b-a)
				}
			}
		}
		if _, n, e := longestWithin(v, 0.1); n != want || e > 0.1+1e-12 {
			t.Fatalf("got %d (evenness %g), want %d for %v", n, e, want, v)
		}
		// The moving window may miss the longest; it must never claim too much.
		if _, n, e := movingWindow(v, 0.1); n > want || 2*n < want || e > 0.1+1e-12 {
			t.Fatalf("moving window: got %d (evenness %g), want %d for %v", n, e, want, v)
		}
	}
}

func TestEvennessFarFromTheOrigin(t *testing.T) {
	// NIST Statistical Reference Datasets, NumAcc4: 1001 values, 10000000.2 then
	// 10000000.1 and 10000000.3 in turn; mean 10000000.2 exactly.
	v := make([]float64, 1001)
	v[0] = 10000000.2
	for i := 1; i < len(v); i += 2 {
		v[i], v[i+1] = 10000000.1, 10000000.3
	}
	if m := mean(v); math.Abs(m-10000000.2) > 1e-8 {
		t.Errorf("mean %.10f", m)
	}
	_, n, e := longestWithin(v, 0.1)
	if want := 0.2 / 10000000.2; n != 1001 || math.Abs(e-want) > 1e-15 {
		t.Errorf("run of %d, evenness %g, want 1001 and %g", n, e, want)
	}
}
