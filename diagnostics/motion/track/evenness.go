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

// PeakToMean returns the largest of the spacings over their mean: 1 at constant
// speed, 1.5 for the cubic 3s^2-2s^3, pi/2 for half a cosine, 1.875 for a
// minimum-jerk move, all in the limit of many spacings. It is 0 when there are
// no spacings or all are 0.
//
// T. Flash, N. Hogan, "The coordination of arm movements", Journal of
// Neuroscience 5 (1985), pages 1688-1703, for the last.
func PeakToMean(spacings []float64) float64 {
	if len(spacings) == 0 {
		return 0
	}
	hi := spacings[0]
	for _, s := range spacings {
		hi = max(hi, s)
	}
	if hi <= 0 {
		return 0
	}
	return hi / meanOf(spacings)
}

// EaseFrames returns the stroke's ease-in and ease-out in frames at the track's
// rate, not rounded.
func (t *Track) EaseFrames(s Stroke) (in, out float64) {
	return s.EaseIn * t.Rate, s.EaseOut * t.Rate
}
