package timing

import (
	"math"
	"testing"
)

func TestTail(t *testing.T) {
	// Cumulative binomial tables: with equal probabilities the Poisson-binomial
	// tail is the binomial tail.
	for _, c := range []struct {
		n, k    int
		p, want float64
	}{{5, 3, 0.1, 0.00856}, {10, 5, 0.2, 0.0327935}, {4, 0, 0.3, 1}, {3, 4, 0.9, 0}} {
		p := make([]float64, c.n)
		for i := range p {
			p[i] = c.p
		}
		if got := tail(p, c.k); math.Abs(got-c.want) > 5e-8 {
			t.Errorf("P(X >= %d | n %d, p %g) = %.7f, want %.7f", c.k, c.n, c.p, got, c.want)
		}
	}
}

func TestByChance(t *testing.T) {
	if byChance([]int{1, 1, 1, 1, 1}, 5, 1, 24) {
		t.Error("five single starts on one frame of a second are no chance")
	}
	if !byChance([]int{135, 245, 191, 233, 66, 301}, 6, 5, 2752) {
		t.Error("jittery turns meet by chance")
	}
}
