package passes

import (
	"cmp"
	"math"
	"slices"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/track"
)

// Hold is a hold of a figure or a part that changed.
type Hold struct {
	// First and Last are display frames of the later pass; where the hold is
	// gone, those in which it was.
	First, Last float64
	Figure      string // the path of the figure's root, "" for a part's own hold
	// Gone is true when what was held moves now, New when what moved is held.
	Gone, New bool
	// Drift is the path in the hold, per second: of the figure's points on
	// average in figure sizes, or in the track's unit. Length is in frames.
	Drift, Length Quantity
}

// The differences of holds that are spoken of; common practice, no source. A hold
// a tenth of a second longer or a fifth, whichever is more, reads as longer; below
// a five-hundredth of figure size a second nobody sees a drift.
const (
	longerSeconds = 0.1
	longerShare   = 0.2
	leastDrift    = 0.002
)

// figureHolds compares the holds of whole figures: where nothing living of one
// moves by itself.
func figureHolds(m *partMatch, k *clock, o Options) (out []Hold) {
	for _, f := range m.figures {
		if f[1].Study().NatureOf(f[1].Root) != motion.Living || f[0].Study().NatureOf(f[0].Root) != motion.Living || len(f[1].Groups) < 2 {
			continue
		}
		points := pairPoints(f, m)
		before := holdsOf(f[0], k.timeBefore)
		after := holdsOf(f[1], k.timeAfter)
		drift := func(side int, index func(float64) float64) func(span) float64 {
			return func(s span) float64 {
				sum := 0.0
				for _, ij := range points {
					t := f[side].CarriedTrack(ij[side])
					sum += t.PathLength(int(math.Round(index(s.first))), int(math.Round(index(s.last))))
				}
				return sum / float64(max(1, len(points))) / max(s.length(), 1e-9)
			}
		}
		list := compareHolds(before, after, drift(0, k.indexBefore), drift(1, k.indexAfter), k, o)
		for i := range list {
			list[i].Figure = k.after.Scene.Parts[f[1].Root].Path
			list[i].Drift.Unit = "figure/s"
		}
		out = append(out, list...)
	}
	slices.SortStableFunc(out, func(a, b Hold) int { return cmp.Compare(a.First, b.First) })
	return out
}

// pointHolds compares the holds of a tracked point, those aside in which its whole
// figure holds: they are told of the figure.
func pointHolds(p *matchedTrack, whole []Hold, k *clock, o Options) (out []Hold) {
	if p.motion != Path || p.same || p.turned || p.fig == nil || p.fig.Study().NatureOf(p.part) != motion.Living {
		return nil
	}
	list := compareHolds(trackHolds(p.before, k.timeBefore), trackHolds(p.after, k.timeAfter), driftOf(p.before, k.indexBefore), driftOf(p.after, k.indexAfter), k, o)
	root := k.after.Scene.Parts[p.fig.Root].Path
	for _, h := range list {
		h.Drift.Unit = "figure/s"
		told := slices.ContainsFunc(whole, func(w Hold) bool { return w.Figure == root && w.First <= h.Last && w.Last >= h.First })
		// Strokes say what is gone or new, and by how much holds are longer.
		if !told && !h.Gone && !h.New && h.Drift.Changed {
			out = append(out, h)
		}
	}
	return out
}

func trackHolds(t *track.Track, time func(float64) float64) (out []span) {
	for _, r := range t.Holds() {
		out = append(out, span{time(float64(r.First)), time(float64(r.Last))})
	}
	return out
}

func driftOf(t *track.Track, index func(float64) float64) func(span) float64 {
	return func(s span) float64 {
		return t.PathLength(int(math.Round(index(s.first))), int(math.Round(index(s.last)))) / max(s.length(), 1e-9)
	}
}

// holdsOf returns the stretches of at least track.HoldSeconds in which nothing of
// a figure moves, seen from what carries it.
func holdsOf(fig *motion.Figure, time func(float64) float64) (out []span) {
	s := fig.Study()
	if s.N < 2 {
		return nil
	}
	moves := make([]bool, s.N)
	any := false
	for _, t := range fig.PoseTracks() {
		for _, k := range t.Strokes() {
			for i := k.First; i < k.Last; i++ {
				moves[i], any = true, true
			}
		}
	}
	if !any {
		return nil
	}
	least := s.Window(track.HoldSeconds)
	for i := 0; i < s.N-1; {
		j := i
		for j < s.N-1 && !moves[j] {
			j++
		}
		if j-i >= least {
			out = append(out, span{time(float64(i)), time(float64(j))})
		}
		i = j + 1
	}
	return out
}

// compareHolds matches holds by what they share and compares them. Drift measures
// the path a second in a stretch of either pass.
func compareHolds(before, after []span, driftBefore, driftAfter func(span) float64, k *clock, o Options) (out []Hold) {
	first, last := k.common()
	taken := make([]bool, len(after))
	cut := func(s span) span { return span{max(s.first, first), min(s.last, last)} }
	for _, a := range before {
		a = cut(a)
		if a.length() < track.HoldSeconds || !k.within(a.first, a.last, o) {
			continue
		}
		best, most := -1, 0.0
		for j, b := range after {
			if c := a.common(b); !taken[j] && c > most {
				best, most = j, c
			}
		}
		b, gone := a, best < 0 || most < 0.3*a.length()
		if !gone {
			taken[best] = true
			b = cut(after[best])
		}
		if h, ok := compareHold(a, b, driftBefore(a), driftAfter(b), k); ok {
			h.Gone = gone
			out = append(out, h)
		}
	}
	for j, b := range after {
		if b = cut(b); taken[j] || b.length() < track.HoldSeconds || !k.within(b.first, b.last, o) {
			continue
		}
		if h, ok := compareHold(b, b, driftBefore(b), driftAfter(b), k); ok {
			h.New = true
			out = append(out, h)
		}
	}
	return out
}

func compareHold(a, b span, driftA, driftB float64, k *clock) (h Hold, ok bool) {
	h = Hold{First: math.Round(k.frameAfter(b.first)), Last: math.Round(k.frameAfter(b.last)),
		Drift:  Quantity{Name: "drift", Was: driftA, Became: driftB},
		Length: Quantity{Name: "length", Was: k.frames(a.length()), Became: k.frames(b.length()), Unit: "frames"}}
	d := math.Abs(b.length() - a.length())
	h.Length.Changed = d >= max(longerSeconds, longerShare*max(a.length(), b.length()))
	if !finite(driftA) || !finite(driftB) {
		return h, false // beyond all measure
	}
	h.Drift.Changed = math.Abs(driftB-driftA) >= max(leastDrift, 0.5*max(driftA, driftB))
	return h, h.Drift.Changed || h.Length.Changed
}
