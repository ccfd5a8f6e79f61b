package checks

import (
	"curvelint/diagnostics/motion"
	"curvelint/parse/scene"
)

// evenRuns finds the even runs of a track that are long, large and fast enough.
func (c *Context) evenRuns(fig *motion.Figure, t *motion.Track, l *evenLimits) []evenRun {
	var out []evenRun
	for _, k := range t.Strokes() {
		r, ok := longestEven(t, k, l)
		if !ok || !c.Study.Judged(r.first, r.last) || !l.seen(t, &r, k) {
			continue
		}
		r.size = likeFigures(t.Quality, r.length)
		r.drivers = c.Study.Drivers(t, r.first, r.last)
		if len(r.drivers) == 0 || c.carriedRoot(fig, r.drivers[0].Channel) {
			continue
		}
		out = append(out, r)
	}
	return out
}

// seen reports whether the run lasts, covers its stroke, and is large and fast
// enough for an audience.
func (l *evenLimits) seen(t *motion.Track, r *evenRun, k motion.Stroke) bool {
	seconds := float64(r.last-r.first) / t.Rate
	few := l.minSpacings
	if r.onTwos {
		few--
	}
	q := t.Quality
	return r.spacings >= few && seconds >= l.minTime-1e-9 &&
		float64(r.last-r.first) >= l.coverage*float64(k.Last-k.First) &&
		r.length >= l.minLength[q] && r.length/seconds >= l.minSpeed[q] &&
		r.mean > 20*t.Noise
}

// longestEven returns the longest even run of a stroke: on ones, with spacing
// over 1/24 s from every frame, or on twos when the track moves on twos.
func longestEven(t *motion.Track, k motion.Stroke, l *evenLimits) (evenRun, bool) {
	best := evenRun{finding: finding{track: t}}
	if t.Stepping() == 2 {
		step := t.StepFrames(2)
		for parity := range step {
			v := t.AppendSpacing(nil, k.First+parity, k.Last, step)
			if a, n, e := longestWithin(v, l.evenness); n > best.spacings {
				best.first, best.spacings, best.evenness = k.First+parity+a*step, n, e
				best.last, best.onTwos = best.first+n*step, true
				best.mean = mean(v[a : a+n])
			}
		}
	} else {
		w := motion.Window(t.Rate, 1.0/24)
		v := make([]float64, 0, k.Last-k.First)
		for i := k.First; i+w <= k.Last; i++ {
			v = t.AppendSpacing(v, i, i+w, w)
		}
		if a, n, e := longestWithin(v, l.evenness); n > 0 {
			best.first, best.last, best.evenness = k.First+a, k.First+a+n-1+w, e
			best.spacings = (best.last - best.first) / w
			best.mean = mean(v[a : a+n])
		}
	}
	for _, s := range t.AppendSpacing(nil, best.first, best.last, 1) {
		best.length += s
	}
	return best, best.spacings > 0
}

// exactRun is the longest stretch in which every start of a run is tried; in
// longer ones a moving window finds the run but for a spacing or two.
const exactRun = 512

// longestWithin returns the start and length of the longest run of v whose
// evenness (largest - smallest) / mean is at most limit, and that evenness.
func longestWithin(v []float64, limit float64) (at, n int, evenness float64) {
	if len(v) > exactRun {
		return movingWindow(v, limit)
	}
	for a := 0; a+n < len(v); a++ {
		lo, hi, sum := v[a], v[a], 0.0
		for b := a; b < len(v); b++ {
			lo, hi = min(lo, v[b]), max(hi, v[b])
			sum += v[b] - v[a]
			// The mean is at most the largest, so no longer run can pass either.
			if hi-lo > limit*hi {
				break
			}
			m := v[a] + sum/float64(b-a+1)
			if b-a+1 > n && m > 0 && hi-lo <= limit*m {
				at, n, evenness = a, b-a+1, (hi-lo)/m
			}
		}
	}
	return at, n, evenness
}

// movingWindow is longestWithin in linear time: two queues hold the candidates
// for largest and smallest of a window that only moves on.
func movingWindow(v []float64, limit float64) (at, n int, evenness float64) {
	var high, low []int
	start, sum := 0, 0.0
	for i, x := range v {
		sum += x
		for len(high) > 0 && v[high[len(high)-1]] <= x {
			high = high[:len(high)-1]
		}
		for len(low) > 0 && v[low[len(low)-1]] >= x {
			low = low[:len(low)-1]
		}
		high, low = append(high, i), append(low, i)
		for start <= i && v[high[0]]-v[low[0]] > limit*sum/float64(i+1-start) {
			sum -= v[start]
			start++
			if len(high) > 0 && high[0] < start {
				high = high[1:]
			}
			if len(low) > 0 && low[0] < start {
				low = low[1:]
			}
		}
		if i+1-start > n && sum > 0 {
			at, n = start, i+1-start
			evenness = (v[high[0]] - v[low[0]]) / (sum / float64(n))
		}
	}
	return at, n, evenness
}

func mean(v []float64) float64 {
	if len(v) == 0 {
		return 0
	}
	// From the first value, so that far from zero no digits are lost.
	sum := 0.0
	for _, x := range v {
		sum += x - v[0]
	}
	return v[0] + sum/float64(len(v))
}

// carriedRoot reports whether the channel shifts the root of a figure that
// walks or runs: a body in locomotion carries its root evenly.
func (c *Context) carriedRoot(fig *motion.Figure, ch scene.ChannelID) bool {
	x := &c.Study.Scene.Channels[ch]
	return x.Quantity == scene.Length && c.Study.IsAncestor(x.Part, fig.Root) && fig.Locomotion()
}
