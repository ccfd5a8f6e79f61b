package timing

import (
	"math"

	"curvelint/diagnostics/checks/kit"
)

// tail returns the probability that at least k of independent events happen,
// event i with probability p[i] (the upper tail of the Poisson-binomial
// distribution), by adding one event at a time.
func tail(p []float64, k int) float64 {
	if k <= 0 {
		return 1
	}
	// at[j] is the probability of exactly j of the events so far, at[k] of k or more.
	at := make([]float64, k+1)
	at[0] = 1
	for _, q := range p {
		q = math.Min(math.Max(q, 0), 1)
		at[k] += at[k-1] * q
		for j := k - 1; j > 0; j-- {
			at[j] = at[j]*(1-q) + at[j-1]*q
		}
		at[0] *= 1 - q
	}
	return at[k]
}

// The limits of what is no chance.
var (
	chanceLimit = kit.Limit{Name: "chance_limit", Value: 0.05, Unit: "count",
		Doc:    "a coincidence means something when a whole clip may be expected to hold fewer by chance",
		Source: "the usual level of significance"}
)

// byChance reports whether k groups changing within a window of frames is no
// surprise in a beat of the given length, when group i changes counts[i] times
// in it.
func byChance(counts []int, k int, window, length float64) bool {
	windows := math.Max(length/window, 1)
	p := make([]float64, len(counts))
	for i, n := range counts {
		p[i] = 1 - math.Pow(1-1/windows, float64(n))
	}
	if windows <= 1 {
		return true
	}
	// The first event fixes the window: the others must fall into it.
	return windows*tail(p, k) > chanceLimit.Value
}
