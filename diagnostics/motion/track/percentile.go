package track

import (
	"math"
	"math/bits"
	"slices"
)

// Percentile returns the smallest element of x that at least the share p of all
// elements do not exceed: the empirical quantile, without interpolation, as
//
//	stat.Quantile(p, stat.Empirical, sorted, nil)
//
// of gonum, in linear time instead of that of sorting. p is cut to [0, 1].
//
// Special cases are:
//   - 0 for empty x.
//   - NaN elements must not occur (not checked).
//
// C. A. R. Hoare, "Algorithm 65: Find", Communications of the ACM 4 (1961),
// pages 321-322.
func Percentile(x []float64, p float64) float64 {
	return percentileInPlace(slices.Clone(x), p)
}

// percentileInPlace is Percentile; it reorders x.
func percentileInPlace(x []float64, p float64) float64 {
	if len(x) == 0 {
		return 0
	}
	k := int(math.Ceil(p*float64(len(x)))) - 1
	return selectInPlace(x, min(max(k, 0), len(x)-1))
}

// selectInPlace returns the element of x, not empty, that sorting would put at
// k; it reorders x.
func selectInPlace(x []float64, k int) float64 {
	// Twice the halvings a fair pivot needs; an input made against the pivot
	// is sorted instead.
	for tries := 2 * bits.Len(uint(len(x))); len(x) > 1; tries-- {
		if tries == 0 {
			slices.Sort(x)
			break
		}
		lo, hi := partition(x, medianOfThree(x))
		switch {
		case k < lo:
			x = x[:lo]
		case k >= hi:
			x, k = x[hi:], k-hi
		default:
			return x[k]
		}
	}
	return x[k]
}

// medianOfThree returns the middle one of the first, middle and last element,
// for x not empty (not checked).
func medianOfThree(x []float64) float64 {
	a, b, c := x[0], x[len(x)/2], x[len(x)-1]
	return max(min(a, b), min(max(a, b), c))
}

// partition reorders x into elements below the pivot, equal to it (from lo to
// hi-1), and above it.
func partition(x []float64, pivot float64) (lo, hi int) {
	hi = len(x)
	for i := 0; i < hi; {
		switch v := x[i]; {
		case v < pivot:
			x[i], x[lo] = x[lo], v
			lo++
			i++
		case v > pivot:
			hi--
			x[i], x[hi] = x[hi], v
		default:
			i++
		}
	}
	return lo, hi
}

// samples is how many elements highPercentile looks at before it chooses.
const samples = 64

// highPercentile returns the percentile p, near 1, of those elements of x that
// exceed least; it does not reorder x, and returns the memory it worked in. A
// few elements tell above which the wanted one lies, almost always, so that
// only some of the highest need be chosen from.
func highPercentile(memory, x []float64, least, p float64) ([]float64, float64) {
	cut := max(least, likelyBelow(x, p))
	n, high := 0, memory[:0]
	for _, v := range x {
		if v > least {
			n++
		}
		if v > cut {
			high = append(high, v)
		}
	}
	k := int(math.Ceil(p*float64(n))) - 1
	if k = min(max(k, 0), n-1) - (n - len(high)); k >= 0 {
		return high, selectInPlace(high, k)
	}
	high = high[:0]
	for _, v := range x {
		if v > least {
			high = append(high, v)
		}
	}
	return high, percentileInPlace(high, p)
}

// likelyBelow returns an element of x that the percentile p most likely exceeds,
// by two standard deviations of the quantile of a sample; 0 when x is so short
// that it does not matter.
func likelyBelow(x []float64, p float64) float64 {
	if len(x) < 4*samples {
		return 0
	}
	var some [samples]float64
	for i := range some {
		some[i] = x[i*(len(x)-1)/(samples-1)]
	}
	slices.Sort(some[:])
	return some[max(int(samples*p-2*math.Sqrt(samples*p*(1-p))), 0)]
}
