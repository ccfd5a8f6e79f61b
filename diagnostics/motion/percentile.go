package motion

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
	k = min(max(k, 0), len(x)-1)
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
