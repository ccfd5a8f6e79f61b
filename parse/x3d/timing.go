package x3d

import (
	"math"

	"curvelint/parse/scene"
)

// maxSlack is how far a key may be moved to lie on a whole frame, in frames,
// when its digits allow as much.
const maxSlack = 0.125

// timing turns the keys of motions into frames.
type timing struct {
	rate   float64
	clocks map[*node]clock
	done   map[timeKey][]float64
}

// timeKey names a column of frames: the keys it comes from, by their first
// element and number, and its clock.
type timeKey struct {
	first *float64
	n     int
	clock *node
}

// played is a motion as one time sensor plays it.
type played struct {
	motion *motion
	clock  *node
}

// rateOf returns the rate of a file whose motions are played by the given
// clocks: the one that the keys as they are suggest, else the smallest whole
// standard rate of which 95 % of the keys fall on frames within their rounding.
func rateOf(all []played, clocks map[*node]clock) (rate float64, known bool) {
	var seconds [][]float64
	var keys []roundedKey
	seen := make(map[timeKey]bool)
	for _, p := range all {
		if len(p.motion.times) == 0 {
			continue
		}
		key := timeKey{first: &p.motion.times[0], n: len(p.motion.times), clock: p.clock}
		if seen[key] {
			continue
		}
		seen[key] = true
		c := clocks[p.clock]
		column := make([]float64, min(rateSample, len(p.motion.times)))
		for i := range column {
			at := p.motion.times[i]
			column[i] = at * c.seconds
			if len(keys) < rateSample && !p.motion.jumps(i) {
				keys = append(keys, roundedKey{column[i], p.motion.keys.slack(at, c)})
			}
		}
		seconds = append(seconds, column)
	}
	rate, known = scene.InferRate(seconds...)
	if known {
		return rate, known
	}
	for _, whole := range scene.StandardRates {
		if whole >= scene.DefaultRate && whole == math.Trunc(whole) && fits(keys, whole) {
			return whole, true
		}
	}
	return rate, known
}

// jumps reports whether key i is one of two at the same time. Writers put those
// between frames, where a value has to jump.
func (m *motion) jumps(i int) bool {
	t := m.times
	return i > 0 && t[i] == t[i-1] || i+1 < len(t) && t[i] == t[i+1]
}

// rateSample is how many keys are enough to know the rate.
const rateSample = 1 << 15

// roundedKey is the time of a key in seconds and how far rounding can have
// moved it.
type roundedKey struct{ at, slack float64 }

// fits reports whether enough of the keys lie on whole frames of a rate. Keys
// that are rounded to more than a frame fit any rate and say nothing.
func fits(keys []roundedKey, rate float64) bool {
	said, hits := 0, 0
	for _, k := range keys {
		frame, slack := k.at*rate, k.slack*rate
		if k.at == 0 || slack > 2*maxSlack {
			continue
		}
		said++
		if math.Abs(frame-math.Round(frame)) <= min(maxSlack, slack+1e-3) {
			hits++
		}
	}
	return said > 0 && float64(hits) >= 0.95*float64(said)
}

// slack returns how far rounding can have moved the time of a key, in seconds.
func (k *keyColumn) slack(key float64, c clock) float64 {
	return 0.5*k.printed.at(key)*c.seconds + math.Abs(key)*c.slack
}

// frames returns the frames of a motion's keys, ascending but for equal keys.
func (t *timing) frames(p played) []float64 {
	if len(p.motion.times) == 0 {
		return nil
	}
	key := timeKey{first: &p.motion.times[0], n: len(p.motion.times), clock: p.clock}
	if frames, ok := t.done[key]; ok {
		return frames
	}
	c := t.clocks[p.clock]
	frames := make([]float64, len(p.motion.times))
	for i, key := range p.motion.times {
		at := key * c.seconds * t.rate
		slack := min(maxSlack, p.motion.keys.slack(key, c)*t.rate+1e-9*math.Abs(at)+1e-9)
		frames[i] = at
		if whole := math.Round(at); math.Abs(at-whole) <= slack {
			frames[i] = whole
		}
		if i > 0 && key > p.motion.times[i-1] && frames[i] <= frames[i-1] {
			// Both would fall on one frame: neither is moved.
			frames[i-1] = p.motion.times[i-1] * c.seconds * t.rate
			frames[i] = at
		}
	}
	t.done[key] = frames
	return frames
}

// last returns the last frame of a clock's cycle.
func (t *timing) last(c clock) float64 {
	at := c.seconds * t.rate
	if whole := math.Round(at); math.Abs(at-whole) <= min(maxSlack, c.slack*t.rate+1e-6*at) {
		return whole
	}
	return at
}
