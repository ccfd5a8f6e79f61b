package passes

import (
	"math"

	"curvelint/diagnostics/motion"
)

// clock maps times between two passes. Times are seconds after the first frame of
// the earlier pass; a frame index of the later one stands at index/rate less base
// and shift.
type clock struct {
	before, after *motion.Study
	// base is when the same display frame comes in the later pass, seconds after
	// its first frame.
	base float64
	// shift is by how many seconds everything comes later.
	shift      float64
	renumbered float64 // frames
}

// sameRate is how far apart two rates may be to count frames alike.
const sameRate = 0.01

// newClock lines two passes up: by the numbers of their frames where both run at
// one rate and share half of the shorter range, else by their first frames.
func newClock(before, after *motion.Study) *clock {
	k := &clock{before: before, after: after}
	if before.N == 0 || after.N == 0 {
		return k
	}
	shift := after.First - before.First
	if math.Abs(before.Rate-after.Rate) > sameRate {
		return k
	}
	common := min(before.First+float64(before.N), after.First+float64(after.N)) - max(before.First, after.First)
	if 2*common < float64(min(before.N, after.N)) {
		k.renumbered = shift
		return k
	}
	k.base = -shift / after.Rate
	return k
}

// frames turns seconds into frames of the later pass.
func (k *clock) frames(seconds float64) float64 { return seconds * k.after.Rate }

// indexBefore and indexAfter return the frame index, between frames as a rule, at
// a time; timeBefore and timeAfter are their inverses.
func (k *clock) indexBefore(t float64) float64 { return t * k.before.Rate }
func (k *clock) timeBefore(i float64) float64  { return i / k.before.Rate }
func (k *clock) indexAfter(t float64) float64  { return (t + k.base + k.shift) * k.after.Rate }
func (k *clock) timeAfter(i float64) float64   { return i/k.after.Rate - k.base - k.shift }

// near is how far apart two ways to tell a time may be, in seconds: a frame of the
// lower rate and a quarter.
func (k *clock) near() float64 { return nearFrames / min(k.before.Rate, k.after.Rate) }

// common returns the time that both passes cover; last < first when they have
// none.
func (k *clock) common() (first, last float64) {
	return max(0, k.timeAfter(0)), min(k.timeBefore(float64(k.before.N-1)), k.timeAfter(float64(k.after.N-1)))
}

// frameAfter returns the display frame of the later pass at a time.
func (k *clock) frameAfter(t float64) float64 { return k.after.First + k.indexAfter(t) }

// within reports whether a stretch of time lies, in part, in the frames that are
// compared.
func (k *clock) within(first, last float64, o Options) bool {
	return !o.HasRange || k.frameAfter(last) >= o.First-1e-6 && k.frameAfter(first) <= o.Last+1e-6
}

// WasAt returns the display frame of the earlier pass that stands against a
// display frame of the later one, between frames as a rule. What comes later as a
// whole is taken off.
func (c *Comparison) WasAt(frame float64) float64 {
	k := newClock(c.Before, c.After)
	k.shift = c.Shift / c.After.Rate
	return c.Before.First + k.indexBefore(k.timeAfter(frame-c.After.First))
}
