package track

import (
	"sort"

	"curvelint/diagnostics/motion/vec"
)

// Prominence ranks strokes of different qualities: the stroke's length in units
// of the slowest motion that counts, so that 0.05 figure sizes, 3 degrees and a
// tenth of a weight's range weigh the same.
func (t *Track) Prominence(k Stroke) float64 { return k.Length / FloorSpeed(t.Quality) }

// minLeg is how far a track must go on both sides of a turn for an audience to
// see the turn, in the measure of Prominence: 0.02 figure sizes, 1.2 degrees,
// 4 % of a range.
const minLeg = 0.4

// PlainEvents returns the starts and stops of the track in the frames a to b,
// and those turns that are more than a tremble.
func (t *Track) PlainEvents(a, b int) []Event {
	in := t.Events()
	in = in[sort.Search(len(in), func(i int) bool { return in[i].Frame >= a }):]
	in = in[:sort.Search(len(in), func(i int) bool { return in[i].Frame > b })]
	leg := minLeg * FloorSpeed(t.Quality)
	out := in[:0:0]
	before := a
	for i, e := range in {
		if e.Kind == Turn {
			next := b
			for _, f := range in[i+1:] {
				if vec.Distance(t.At(e.Frame), t.At(f.Frame)) >= leg || f.Kind != Turn {
					next = f.Frame
					break
				}
			}
			if vec.Distance(t.At(e.Frame), t.At(before)) < leg || vec.Distance(t.At(e.Frame), t.At(next)) < leg {
				continue
			}
		}
		before = e.Frame
		out = append(out, e)
	}
	return out
}
