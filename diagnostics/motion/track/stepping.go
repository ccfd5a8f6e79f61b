package track

import (
	"math"

	"curvelint/diagnostics/motion/clip"
)

// On twos a pose stays for two frames at 24 frames per second: changes and
// repeats alternate.
const (
	twosShare = 0.8 // of the changes must be followed by exactly one repeat
	twosLeast = 6   // changes in a row or more, else nothing can be told
	// Up to this rate a pose on twos lasts two frames; above it, 1/12 s.
	twosByFrame = 36.0
)

// twosFrames returns how many frames a pose on twos lasts at a rate.
func twosFrames(rate float64) float64 {
	if rate > twosByFrame {
		return rate / 12
	}
	return 2
}

// twosGap returns the least and the greatest number of frames between changes
// that is on twos: 2 at usual rates, from 1/16 s to under 1/10 s above.
func twosGap(rate float64) (lo, hi int) {
	if rate > twosByFrame && rate < math.MaxInt32 {
		return int(math.Ceil(rate / 16)), int(math.Ceil(rate/10)) - 1
	}
	return 2, 2
}

// Stepping returns 2 when the track moves on twos, else 1: as given, else when
// at least 80 % of its moving frames alternate change and repeat, in either
// parity, over at least six changes.
func (t *Track) Stepping() int {
	t.steppingOnce.Do(func() {
		t.stepping = t.GivenStep
		if t.stepping == 1 || t.stepping == 2 {
			return
		}
		n, moves := max(t.Len()-1, 0), t.movedSteps()
		if t.stepping = 1; moves.allOf(n) {
			return // as in most bakes
		}
		moved := make([]bool, n)
		moves.addTo(moved)
		t.stepping = steppingOf(moved, t.Rate)
	})
	return t.stepping
}

// steppingOf returns 2 when changes on twos make up at least 80 % of the
// motion, else 1. moved has one element a step from frame index i to i+1: whether
// anything changes in it (Stillness tells the opposite). A change belongs to the
// motion when the next one follows before a pose on threes would.
func steppingOf(moved []bool, rate float64) int {
	lo, hi := twosGap(rate)
	twos, all, last := 0, 0, -1
	for i, m := range moved {
		if !m {
			continue
		}
		if gap := i - last; last >= 0 && gap <= hi {
			all++
			if gap >= lo {
				twos++
			}
		}
		last = i
	}
	if twos+1 < twosLeast || float64(twos) < twosShare*float64(all) {
		return 1
	}
	return 2
}

// steppedSeconds is how long a stretch must last to be on ones or twos.
const steppedSeconds = 0.25

// Stepped is a stretch of frames on ones or twos. First and Last are frame
// indices: the position before its first change and that after its last.
type Stepped struct {
	First, Last int
	Step        int // 1 or 2
}

// SteppedStretches returns the stretches of at least 0.25 s in which changes
// follow each other on ones, or on twos, without a break, in order. Between them
// lie rests, single changes and longer steps. Stretches may share the change at
// which one turns into the other. moved is as for steppingOf.
func SteppedStretches(moved []bool, rate float64) []Stepped {
	lo, hi := twosGap(rate)
	least := clip.Window(rate, steppedSeconds)
	var out []Stepped
	first, last, step := -1, -1, 0
	end := func() {
		// A pose on twos stays for its repeat too.
		if step > 0 && last-first+step*lo/2 >= least {
			out = append(out, Stepped{first, last + 1, step})
		}
	}
	for i, m := range moved {
		if !m {
			continue
		}
		if step == 1 && i-last < lo {
			last = i // goes on
			continue
		}
		now := 0
		switch gap := i - last; {
		case last < 0 || gap > hi:
		case gap >= lo:
			now = 2
		default:
			now = 1
		}
		if now != step {
			end()
			first, step = last, now
		}
		last = i
	}
	end()
	return out
}
