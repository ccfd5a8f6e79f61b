package track

import "math"

const (
	// lagReach is how far in seconds a follower may be behind or ahead.
	lagReach = 0.6
	// lagsPerSecond limits how many lags are tried: speeds are means over
	// 1/24 s and change little between them.
	lagsPerSecond = 240.0
	// lagOverlap is the share of a window that must lie within both profiles.
	lagOverlap = 0.5
	// lagSamples is the least number of speeds that can be compared.
	lagSamples = 4
)

// Lag is how a follower's speed profile compares with its leader's.
type Lag struct {
	// Seconds is by how much the follower is behind, negative when it is
	// ahead, between whole frames where a parabola puts the best correlation.
	Seconds float64
	// Frames is the best lag in whole frames.
	Frames int
	// Correlation is that at Frames, -1 to 1.
	Correlation float64
}

// crossSum returns the sum of (a[i] - ma) (b[i+k] - mb).
func crossSum(a, b []float64, ma, mb float64, k int) float64 {
	sum := 0.0
	for i := max(0, -k); i < min(len(a), len(b)-k); i++ {
		sum += (a[i] - ma) * (b[i+k] - mb)
	}
	return sum
}

// BestLag returns the lag within 0.6 s either way at which the follower's speed
// profile b is most like the leader's a, by their normalised cross-correlation at a
// lag of k elements; of equal ones the smallest:
//
//	r(k) = sum (a[i] - mean a) (b[i+k] - mean b) / sqrt(sum (a - mean a)^2 sum (b - mean b)^2)
//
// with the sum over all i for which both elements exist and the means and
// squares over the whole profiles, so that what lies outside counts as mean
// speed.
//
// Both profiles have one element a spacing, of one clip at a rate in
// frames per second. ok is false when they differ in length or are shorter than
// four spacings, when either is constant, and when nothing correlates.
func BestLag(lead, follow []float64, rate float64) (best Lag, ok bool) {
	if len(lead) != len(follow) || len(lead) < lagSamples || !(rate > 0) {
		return Lag{}, false
	}
	ma, mb := meanOf(lead), meanOf(follow)
	scale := math.Sqrt(crossSum(lead, lead, ma, ma, 0) * crossSum(follow, follow, mb, mb, 0))
	if !(scale > 0) || math.IsInf(scale, 0) {
		return Lag{}, false
	}
	return bestLag(rate, len(lead)-1, func(k int) (float64, bool) {
		return crossSum(lead, follow, ma, mb, k) / scale, true
	})
}

// LagBehind returns the lag within 0.6 s either way at which the follower's
// speed is most like the leader's over a stroke of the leader: of all stretches
// of the follower as long as the stroke, the one with the largest correlation
//
//	sum (a - mean a) (b - mean b) / sqrt(sum (a - mean a)^2 sum (b - mean b)^2)
//
// over the stretch alone; where it leaves the clip at least half of the stroke
// must remain. Both tracks have the same frames and rate. ok is false for a
// stroke of fewer than four spacings and when nothing correlates.
func (lead *Track) LagBehind(s Stroke, follow *Track) (best Lag, ok bool) {
	return bestLag(lead.Rate, lead.Len()-2, func(k int) (float64, bool) { return lead.CorrelationAt(s, follow, k) })
}

// CorrelationAt returns the correlation that LagBehind finds at a lag of k frames; ok
// is false when it is not defined there.
func (lead *Track) CorrelationAt(s Stroke, follow *Track, k int) (r float64, ok bool) {
	a, b := lead.Speed(), follow.Speed()
	if s.Last-s.First < lagSamples || s.First < 0 || s.Last > len(a) || len(a) != len(b) {
		return 0, false
	}
	least := max(lagSamples, int(math.Ceil(lagOverlap*float64(s.Last-s.First))))
	from, to := max(s.First, -k), min(s.Last, len(b)-k)
	if to-from < least {
		return 0, false
	}
	return correlation(a[from:to], b[from+k:to+k])
}

// correlation returns the correlation of a and b, of one length not 0 (not
// checked); ok is false when either is constant.
func correlation(a, b []float64) (r float64, ok bool) {
	ma, mb := meanOf(a), meanOf(b)
	ab, aa, bb := 0.0, 0.0, 0.0
	for i := range a {
		x, y := a[i]-ma, b[i]-mb
		ab, aa, bb = ab+x*y, aa+x*x, bb+y*y
	}
	// Constant but for rounding: its shape means nothing.
	tiny := float64(len(a)) * rounding * rounding
	if aa <= tiny*ma*ma || bb <= tiny*mb*mb {
		return 0, false
	}
	r = ab / (math.Sqrt(aa) * math.Sqrt(bb))
	return r, !math.IsNaN(r)
}

// bestLag tries lags outwards from 0, up to limit frames, and refines the best.
func bestLag(rate float64, limit int, at func(k int) (float64, bool)) (best Lag, ok bool) {
	if !(rate > 0) || math.IsInf(rate, 0) {
		return Lag{}, false
	}
	step := 1
	if rate > lagsPerSecond {
		step = int(min(rate/lagsPerSecond, float64(limit)+1))
	}
	reach := int(min(math.Round(lagReach*rate), float64(limit)))
	try := func(k int) {
		if r, defined := at(k); defined && r > best.Correlation+rounding {
			best, ok = Lag{Frames: k, Correlation: r}, true
		}
	}
	for k := 0; k <= reach; k += step {
		try(k)
		if k > 0 {
			try(-k)
		}
	}
	if !ok {
		return Lag{}, false
	}
	best.Seconds = float64(best.Frames) / rate
	before, a := at(best.Frames - step)
	after, b := at(best.Frames + step)
	if a && b {
		best.Seconds += peakOffset(before, best.Correlation, after) * float64(step) / rate
	}
	return best, true
}

// peakOffset returns where the parabola through (-1, l), (0, m) and (1, r) has
// its peak, -1/2 to 1/2 for m not below l and r; 0 when it has none.
func peakOffset(l, m, r float64) float64 {
	bend := l - 2*m + r
	if !(bend < 0) {
		return 0
	}
	return min(max((l-r)/(2*bend), -0.5), 0.5)
}
