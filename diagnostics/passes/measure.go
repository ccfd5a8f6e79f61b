package passes

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion/track"
)

// measured is what one pass's stroke, or run of strokes, measures. Times are
// seconds of the clock, lengths in the track's unit; NaN stands for what cannot be
// said.
type measured struct {
	track  *track.Track
	stroke track.Stroke // from the first to the last of the run
	// start, peak and arrival are as the study cuts strokes; begun, middle and
	// done are when 1 %, half and 99 % of the motion's energy is spent. The
	// former jump with a little drift, the latter with a new shape: what both
	// say is so.
	start, peak, arrival float64
	begun, middle, done  float64
	leave, arrive        float64 // to nine tenths of the peak speed, and from there
	arcDepth, travel     float64
	contrast, breakdown  float64
	reversals            float64
}

// measure measures the strokes of one track between two frame indices, the ends of
// what both passes cover; ok is false when nothing is left.
func measure(t *track.Track, strokes []track.Stroke, lo, hi int, time func(float64) float64) (m measured, ok bool) {
	first, last := max(strokes[0].First, lo), min(strokes[len(strokes)-1].Last, hi)
	if last-first < 1 || 2*(last-first) < strokes[len(strokes)-1].Last-strokes[0].First {
		return m, false
	}
	k := strokes[0]
	if len(strokes) > 1 || k.First != first || k.Last != last {
		k = t.Measure(first, last)
	}
	m = measured{track: t, stroke: k, leave: k.EaseIn, arrive: k.EaseOut}
	m.start, m.peak, m.arrival = time(float64(first)), time(float64(k.Peak)+0.5), time(float64(last))
	at := energy(t, first, last)
	m.begun, m.middle, m.done = time(at[0]), time(at[1]), time(at[2])
	m.arcDepth, m.travel = math.NaN(), math.NaN()
	if t.Quality == track.Position && k.Chord > shortChord {
		m.arcDepth, m.travel = t.ArcDepth(k), t.Travel(k)
	}
	m.contrast = middleContrast(t, first, last)
	m.breakdown = middleBreakdown(t, first, last)
	m.reversals = reversals(t, first, last)
	return m, true
}

// shortChord is how long a chord must be, in figure sizes, for the shape of its
// path to be seen: the path of a hand that stays where it is has no arc.
const shortChord = 0.02

// energy returns the frame indices, between frames, by which 1 %, 50 % and 99 % of
// the sum of squared speeds is spent.
func energy(t *track.Track, first, last int) (at [3]float64) {
	v := t.Speed()[first:last]
	total := 0.0
	for _, x := range v {
		total += x * x
	}
	at = [3]float64{float64(first), float64(first+last) / 2, float64(last)}
	if total == 0 {
		return at
	}
	sum := 0.0
	next := 0
	for i, x := range v {
		for next < 3 && sum+x*x >= [3]float64{0.01, 0.5, 0.99}[next]*total {
			need := [3]float64{0.01, 0.5, 0.99}[next]*total - sum
			at[next] = float64(first+i) + need/(x*x)
			next++
		}
		sum += x * x
	}
	return at
}

// middleContrast returns how unequal the spacings in the middle half of a stroke are,
// NaN for fewer than three.
func middleContrast(t *track.Track, first, last int) float64 {
	n := last - first
	s := t.AppendSpacing(nil, first+n/4, last-n/4, t.StepFrames(t.Stepping()))
	if len(s) < 3 {
		return math.NaN()
	}
	return track.Evenness(s)
}

// middleBreakdown returns how far along its chord a stroke is half-way through its
// time, NaN for one that returns or has no frame inside.
func middleBreakdown(t *track.Track, first, last int) float64 {
	if last-first < 4 || r3.Norm(r3.Sub(t.At(last), t.At(first))) < 0.5*t.PathLength(first, last) {
		return math.NaN()
	}
	a, ok := t.Breakdown(first, (first+last)/2, last)
	b, also := t.Breakdown(first, (first+last+1)/2, last)
	if !ok || !also {
		return math.NaN()
	}
	return (a + b) / 2
}

// reversals counts the turns within a stroke that are more than a tremble: the
// track goes on for at least minProminence on both sides.
func reversals(t *track.Track, first, last int) float64 {
	leg := minProminence * track.FloorSpeed(t.Quality)
	far := func(a, b int) bool { return r3.Norm(r3.Sub(t.At(a), t.At(b))) >= leg }
	count, before := 0, first
	for _, e := range t.Events() {
		if e.Kind == track.Turn && e.Frame > first && e.Frame < last && far(e.Frame, before) && far(e.Frame, last) {
			count++
			before = e.Frame
		}
	}
	return float64(count)
}

// agreed returns the smaller of two differences that point the same way, else 0.
// sure is false when they say different things.
func agreed(a, b, near float64) (d float64, sure bool) {
	switch {
	case a > 0 && b > 0:
		d = min(a, b)
	case a < 0 && b < 0:
		d = max(a, b)
	}
	return d, math.Abs(a-b) <= near
}

// timing is by how many seconds the start, the middle and the arrival of a stroke
// come later, and which of them are sure.
type timing struct {
	start, middle, arrival float64
	sure                   [3]bool
}

// compareTiming compares the times of two strokes; near is how far apart two ways
// to tell a time may be, in seconds.
func compareTiming(a, b *measured, near float64) (t timing) {
	t.start, t.sure[0] = agreed(b.start-a.start, b.begun-a.begun, near)
	t.middle, t.sure[1] = agreed(b.peak-a.peak, b.middle-a.middle, near)
	t.arrival, t.sure[2] = agreed(b.arrival-a.arrival, b.done-a.done, near)
	return t
}

// shift returns by how much the whole stroke comes later: the middle one of the
// three.
func (t timing) shift() float64 {
	a, b, c := t.start, t.middle, t.arrival
	return max(min(a, b), min(max(a, b), c))
}
