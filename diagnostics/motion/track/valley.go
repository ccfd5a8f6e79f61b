package track

// valley is a local minimum of a speed profile between two peaks: its lowest
// elements, first to last, all rounding.
type valley struct{ first, last int }

// rounding is the relative difference below which two speeds are the same: the
// rounding of a hierarchy, which must not decide between neighbouring frames.
const rounding = 1e-9

// appendValleys appends to dst the minima of v[a:b] that lie below share of the
// peaks on both sides, where both peaks exceed least. Between two such minima
// lies one peak: smaller ripples count for nothing. It takes linear time.
func appendValleys(dst []valley, v []float64, a, b int, share, least float64) []valley {
	v = v[:b]
	peak := 0.0
	for i := a; ; {
		// Up to a peak that counts, and down below its share.
		level := 0.0
		if peak > least {
			level = share * peak
		}
		for i < len(v) && !(v[i] < level) {
			if x := v[i]; x >= peak {
				if peak = x; peak > least {
					level = share * peak
				}
			}
			i++
		}
		if i == len(v) {
			return dst
		}
		// Down to the lowest, and up to where that is below a share again.
		low, at := v[i], valley{i, i}
		below, above := low*(1-rounding), low*(1+rounding)
		for i++; ; i++ {
			if i == len(v) {
				return dst
			}
			x := v[i]
			if x < below {
				low, at = x, valley{i, i}
				below, above = low*(1-rounding), low*(1+rounding)
			} else if share*x > low && x > least {
				break
			} else if x <= above && at.last == i-1 {
				at.last = i
			}
		}
		dst = append(dst, at)
		peak = v[i]
		i++
	}
}

// frame returns the whole frame nearest to the valley's bottom in v: the middle
// of its lowest spacings, and for a single one the end at which the
// neighbouring spacing is the smaller.
func (w valley) frame(v []float64) int {
	m := w.first
	if w.last > m {
		return (m + w.last + 1) / 2
	}
	if m > 0 && m+1 < len(v) && v[m+1] < v[m-1]*(1-rounding) {
		return m + 1
	}
	return m
}
