package track

import "curvelint/diagnostics/motion/vec"

// cutShare is how far speed must fall below the peaks on both sides to end one
// stroke and begin the next.
const cutShare = 0.5

// easeShare is the share of the peak speed at which a stroke has eased in.
const easeShare = 0.9

// cutStrokes appends to the borrowed strokes those of the motion over spacings a
// to b-1; v is the bridged speed. The motion borders on rests or the ends of the
// clip.
func (t *Track) cutStrokes(v []float64, p *profile, a, b int, enter float64) {
	own := p.borrowed
	own.valleys = appendValleys(own.valleys[:0], v, a, b, cutShare, enter)
	first := a
	for _, w := range own.valleys {
		if f := w.frame(v); f > first && f < b {
			own.strokes = append(own.strokes, t.strokeBetween(p, first, f, first == a, false))
			first = f
		}
	}
	own.strokes = append(own.strokes, t.strokeBetween(p, first, b, first == a, true))
}

// Measure returns the stroke from frame index first to last, first < last, as
// if it began and ended there. The range is cut to the clip; an empty one gives
// a stroke without length.
func (t *Track) Measure(first, last int) Stroke {
	first, last = max(first, 0), min(last, t.Len()-1)
	if first >= last {
		return Stroke{First: first, Last: first, Peak: first}
	}
	return t.strokeBetween(&profile{spacing: t.Spacing(), speed: t.Speed()}, first, last, true, true)
}

func (t *Track) strokeBetween(p *profile, first, last int, fromRest, toRest bool) Stroke {
	k := Stroke{First: first, Last: last, FromRest: fromRest, ToRest: toRest, Peak: first}
	v := p.speed[first:last]
	s := p.spacing[first:last][:len(v)]
	length, higher := 0.0, v[0]*(1+rounding)
	for i, x := range v {
		length += s[i]
		if x > higher {
			k.Peak, higher = first+i, x*(1+rounding)
		}
	}
	k.Length, k.PeakSpeed = length, v[k.Peak-first]
	k.Chord = vec.Distance(t.At(first), t.At(last))
	if !(t.Rate > 0) {
		return k
	}
	k.MeanSpeed = k.Length * t.Rate / float64(last-first)
	in, out := eases(v, easeShare*k.PeakSpeed)
	k.EaseIn, k.EaseOut = in/t.Rate, out/t.Rate
	return k
}

// eases returns in spacings how long v takes from its start to first reach
// level and from last leaving it to its end. v[i] counts as the speed at i+1/2,
// straight lines in between; a start or end that is at the level at once takes
// no time. Some element of v must reach level (not checked).
func eases(v []float64, level float64) (in, out float64) {
	i, j := 0, len(v)-1
	for i < len(v)-1 && v[i] < level {
		i++
	}
	for j > 0 && v[j] < level {
		j--
	}
	if i > 0 {
		in = float64(i) + 0.5 - (v[i]-level)/(v[i]-v[i-1])
	}
	if j < len(v)-1 {
		out = float64(len(v)-j) - 0.5 - (v[j]-level)/(v[j]-v[j+1])
	}
	return in, out
}

// EaseFrames returns the stroke's ease-in and ease-out in frames at the track's
// rate, not rounded.
func (t *Track) EaseFrames(s Stroke) (in, out float64) {
	return s.EaseIn * t.Rate, s.EaseOut * t.Rate
}
