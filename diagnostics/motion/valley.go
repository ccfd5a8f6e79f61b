package motion

// valley is a local minimum of a speed profile between two peaks: its lowest
// elements, first to last, all alike.
type valley struct{ first, last int }

// alike is the relative difference below which two speeds are the same: the
// rounding of a hierarchy, which must not decide between neighbouring frames.
const alike = 1e-9

// appendValleys appends to dst the minima of v[a:b] that lie below share of the
// peaks on both sides, where both peaks exceed least. Between two such minima
// lies one peak: smaller ripples count for nothing. It takes linear time.
func appendValleys(dst []valley, v []float64, a, b int, share, least float64) []valley {
	peak, falling := 0.0, false
	var low float64
	var at valley
	for i := a; i < b; i++ {
		x := v[i]
		switch {
		case !falling:
			if x >= peak {
				peak = x
			} else if peak > least && x < share*peak {
				falling, low, at = true, x, valley{i, i}
			}
		case x < low*(1-alike):
			low, at = x, valley{i, i}
		case x > least && share*x > low:
			dst = append(dst, at)
			falling, peak = false, x
		case x <= low*(1+alike) && at.last == i-1:
			at.last = i
		}
	}
	return dst
}

// frame returns the whole frame nearest to the valley's bottom in v: the middle
// of its lowest spacings, and for a single one the end at which the
// neighbouring spacing is the smaller.
func (w valley) frame(v []float64) int {
	m := w.first
	if w.last > m {
		return (m + w.last + 1) / 2
	}
	if m > 0 && m+1 < len(v) && v[m+1] < v[m-1]*(1-alike) {
		return m + 1
	}
	return m
}
