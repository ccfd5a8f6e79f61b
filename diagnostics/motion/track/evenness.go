package track

// Evenness returns how unequal spacings are,
//
//	(max - min) / mean
//
// 0 for constant speed. The mean is taken around the first spacing, so that
// equal digits are not lost in a sum.
//
// Special cases are:
//   - 0 for fewer than two spacings and for spacings that are all 0.
//   - NaN elements must not occur (not checked).
func Evenness(spacings []float64) float64 {
	if len(spacings) < 2 {
		return 0
	}
	lo, hi := spacings[0], spacings[0]
	for _, s := range spacings {
		lo, hi = min(lo, s), max(hi, s)
	}
	if hi == lo {
		return 0
	}
	return (hi - lo) / meanOf(spacings)
}

// meanOf returns the mean of x, for x not empty (not checked):
//
//	x[0] + sum (x[i] - x[0]) / n
func meanOf(x []float64) float64 {
	sum := 0.0
	for _, v := range x {
		sum += v - x[0]
	}
	return x[0] + sum/float64(len(x))
}
