package track

import (
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// Events returns the starts, stops and turns of the track in order of frames.
//
// A start is the last frame of a rest that motion follows, a stop the first
// frame of a rest that follows motion. A turn is the frame at which successive
// velocities, each over 1/24 s (a step on twos), are more than 90 degrees
// apart, within a stroke or between two; a turn in a rest is noise and none. Of
// the frames of one such step that qualify, the sharpest is the turn.
//
// Callers must not write to the result.
func (t *Track) Events() []Event {
	t.eventsOnce.Do(func() {
		for _, r := range t.Rests() {
			if r.First > 0 {
				t.events = append(t.events, Event{Stop, r.First})
			}
			if r.Last < t.Len()-1 {
				t.events = append(t.events, Event{Start, r.Last})
			}
		}
		t.appendTurns()
		slices.SortStableFunc(t.events, func(a, b Event) int { return a.Frame - b.Frame })
	})
	return t.events
}

// eventShare is the share of a stroke's peak speed at which it counts as begun
// and ended.
const eventShare = 0.1

// EventTime returns when an event happens in frames from the first, between
// whole ones: a stroke starts where its speed comes to a tenth of its own peak,
// and stops where it falls below that, by straight lines between the speeds. So
// a large and a small stroke that begin together have one time, though the
// small one leaves its rest a frame later. A turn happens at its frame.
func (t *Track) EventTime(e Event) float64 {
	strokes := t.Strokes()
	i, found := slices.BinarySearchFunc(strokes, e.Frame, func(k Stroke, frame int) int { return k.First - frame })
	if e.Kind == Stop {
		i--
		found = i >= 0 && strokes[i].Last == e.Frame
	}
	if e.Kind == Turn || !found {
		return float64(e.Frame)
	}
	v, k := t.Speed(), strokes[i]
	level := eventShare * k.PeakSpeed
	if e.Kind == Start {
		for i := k.First; i < k.Peak; i++ {
			if v[i+1] >= level && v[i] < level {
				return float64(i) + 0.5 + (level-v[i])/(v[i+1]-v[i])
			}
		}
		if i := k.First; i > 0 && v[i-1] < level && v[i] > v[i-1] {
			return float64(i) - 0.5 + (level-v[i-1])/(v[i]-v[i-1])
		}
		return float64(e.Frame)
	}
	for i := k.Last - 1; i > k.Peak; i-- {
		if v[i-1] >= level && v[i] < level {
			return float64(i) + 0.5 - (level-v[i])/(v[i-1]-v[i])
		}
	}
	if i := k.Last; i < len(v) && v[i] < level && v[i-1] > v[i] {
		return float64(i) - 0.5 + (v[i-1]-level)/(v[i-1]-v[i])
	}
	return float64(e.Frame)
}

// appendTurns appends the turns inside every stretch of motion.
func (t *Track) appendTurns() {
	a := 0
	for _, r := range t.Rests() {
		t.turnsWithin(a, r.First)
		a = r.Last
	}
	t.turnsWithin(a, t.Len()-1)
}

// turnsWithin appends the turns strictly between frames a and b.
func (t *Track) turnsWithin(a, b int) {
	if b-a < 2 {
		return
	}
	if w := t.turnFrames(); w > 1 {
		t.turnsOver(a, b, w)
		return
	}
	// Steps of one frame: a still one at the extreme of a swing is passed over.
	moves := t.movedSteps()
	before, p, at := r3.Vec{}, t.At(a), -1
	for i := a; i < b; i++ {
		q := t.At(i + 1)
		d := r3.Sub(q, p)
		if p = q; moves[i/64]>>(i%64)&1 == 0 {
			continue
		}
		if at >= 0 && r3.Dot(before, d) < 0 {
			t.events = append(t.events, Event{Turn, (at + 1 + i) / 2})
		}
		before, at = d, i
	}
}

// turnsOver appends, of the frames of a step of w frames at which the motion
// before and after oppose, the sharpest.
func (t *Track) turnsOver(a, b, w int) {
	best, at := 0.0, -1
	for i := a + 1; i < b; i++ {
		d := t.opposed(i, w, a, b)
		if at >= 0 && (d >= 0 || i-at >= w) {
			t.events = append(t.events, Event{Turn, at})
			best, at = 0, -1
		}
		if d < best*(1+rounding) {
			best, at = d, i
		}
	}
	if at >= 0 {
		t.events = append(t.events, Event{Turn, at})
	}
}

// turnFrames returns the length of the steps turns are seen from.
func (t *Track) turnFrames() int {
	return max(1, int(t.speedFrames()+0.5))
}

// opposed returns the dot product of the steps of w frames before and after
// frame i, cut to frames a to b, or 0 when either is no motion. The steps join
// means over a window of Speed's, so that jitter at a high rate makes no turns.
func (t *Track) opposed(i, w, a, b int) float64 {
	n, apart := t.speedChords()
	h := int(float64(n-1) * apart / 2)
	p := t.meanAround(i, h, a, b)
	d, e := r3.Sub(p, t.meanAround(max(i-w, a), h, a, b)), r3.Sub(t.meanAround(min(i+w, b), h, a, b), p)
	limit := t.StillLimit()
	if limit *= limit; r3.Dot(d, d) <= limit || r3.Dot(e, e) <= limit {
		return 0
	}
	return r3.Dot(d, e)
}

// meanAround returns the mean position of frames i-h to i+h, of fewer on both
// sides near frames a and b. Of a long stretch not every frame is taken.
func (t *Track) meanAround(i, h, a, b int) r3.Vec {
	h = min(h, i-a, b-i)
	step := 1 + 2*h/mostChords
	sum, n := t.At(i), 1.0
	for d := step; d <= h; d += step {
		sum = r3.Add(sum, r3.Add(t.At(i-d), t.At(i+d)))
		n += 2
	}
	return r3.Scale(1/n, sum)
}
