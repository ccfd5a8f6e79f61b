package spacing

import (
	"fmt"
	"sort"

	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
)

// stepTime is how long before or after its foot lands or lifts, in seconds, the
// floor still has a say in how a leg moves.
const stepTime = 0.16

// stepsOff reports whether the part belongs to a leg whose foot stands at frame
// index i or about then: such a leg gives way to the body, and the floor pushes it
// off and stops it.
func stepsOff(c *kit.Context, fig *motion.Figure, p scene.PartID, i int) bool {
	g := fig.GroupOf(p)
	if g == nil || g.Label.Body != motion.Leg {
		return false
	}
	w := c.Study.Window(stepTime)
	for _, f := range fig.Feet() {
		if fig.GroupOf(fig.Points[f.Points[0]].Part) != g {
			continue
		}
		for _, k := range f.Contacts {
			if k.First-w <= i && i <= k.Last+w {
				return true
			}
		}
	}
	return false
}

// hardLimits are the settings of one of the two checks in a run of it.
type hardLimits struct {
	share   float64 // of the largest spacing
	minTime float64 // s
	minPeak float64 // figure/s
}

// hardEdge is a stroke that meets a hold at nearly its largest spacing.
type hardEdge struct {
	kit.Candidate
	stroke motion.Stroke
	edgeSpacing
}

// edgeSpacing is what the start or end of a stroke is judged by.
type edgeSpacing struct {
	beside float64 // the spacing beside the hold, as a share of the largest
	share  float64 // that which counts: the same, or the next one
	// seconds is how long the stroke takes without its dying settle.
	seconds float64
}

// hardEdgeNotes gives a note for each stroke that leaves a hold (start) or runs
// into one at nearly its largest spacing.
func hardEdgeNotes(c *kit.Context, start bool, l hardLimits) []note.Note {
	var notes []note.Note
	for _, fig := range c.Living() {
		var all []hardEdge
		for _, t := range kit.SeenTracks(fig) {
			if c.Ctx.Err() != nil {
				return nil
			}
			if b := fig.LabelOf(t.Part).Body; b == motion.Lids || b == motion.Eyes || b == motion.Mouth {
				continue // a blink, a dart of the eyes and a sound start and stop at once
			}
			all = append(all, hardEdges(c, fig, t, start, l)...)
		}
		for _, f := range kit.OneCause(fig, all, func(f *hardEdge) *kit.Candidate { return &f.Candidate }) {
			notes = append(notes, hardNote(c, fig, f, start))
		}
	}
	return notes
}

// quickest gives the least peak speed for a quality, in the proportion in which
// even spacing's least speeds stand (0.07 figure/s, 12 degrees/s, 0.4 range/s).
func quickest(q motion.Quality, figures float64) float64 {
	return figures * [...]float64{motion.Position: 1, motion.Rotation: 12 / 0.07, motion.Value: 0.4 / 0.07}[q]
}

// hardEdges finds the strokes of a track that meet a hold at nearly their
// largest spacing.
func hardEdges(c *kit.Context, fig *motion.Figure, t *motion.Track, start bool, l hardLimits) []hardEdge {
	s := c.Study
	holds := t.Holds()
	var out []hardEdge
	for _, k := range t.Strokes() {
		edge := k.Last
		if start {
			edge = k.First
		}
		at := sort.Search(len(holds), func(i int) bool { return holds[i].Last >= edge })
		if at == len(holds) || holds[at].First > edge || edge == 0 || edge == s.N-1 || !s.Judged(k.First, k.Last) ||
			float64(k.Last-k.First)/s.Rate < l.minTime-1e-9 || k.PeakSpeed < quickest(t.Quality, l.minPeak) {
			continue
		}
		if t.Prominence(k) < 1 {
			continue // 3 degrees, a tenth of a weight: nobody sees how it starts
		}
		e := edgeOf(t, k, start)
		if e.seconds < l.minTime-1e-9 || e.share < l.share || kit.NearContact(c, fig, edge) || stepsOff(c, fig, t.Part, edge) || kit.GivesWay(c, fig, t, k.First, k.Last) {
			continue
		}
		f := hardEdge{kit.Candidate{Track: t, First: k.First, Last: k.Last, Size: kit.LikeFigures(t.Quality, k.Length)}, k, e}
		f.Drivers = s.Drivers(t, k.First, k.Last)
		out = append(out, f)
	}
	return out
}

// edgeOf measures the spacing at the start or end of a stroke, over 1/24 s, as a
// share of its largest. A move may start between two frames and then shows only
// part of its first spacing: in a stroke of eight spacings and more, too long
// for an eased start to be over by then, the second counts when it is all but
// the largest and the first at least cutShort of that; where the first is smaller,
// it is an ease of one frame. With fewer than four spacings an edge cannot be told
// from the middle.
func edgeOf(t *motion.Track, k motion.Stroke, start bool) edgeSpacing {
	w := motion.Window(t.Rate, 1.0/24)
	largest := 0.0
	for i := k.First; i+w <= k.Last; i++ {
		largest = max(largest, kit.Chord(t, i, w))
	}
	if (k.Last-k.First)/w < 4 || largest == 0 {
		return edgeSpacing{}
	}
	at := func(j int) float64 {
		if start {
			return kit.Chord(t, k.First+j*w, w) / largest
		}
		return kit.Chord(t, k.Last-(j+1)*w, w) / largest
	}
	n := quickSpacings(t, k, w, largest)
	e := edgeSpacing{beside: at(0), share: at(0), seconds: float64(n*w) / t.Rate}
	if second := at(1); n >= 8 && second > 0.97 && e.beside >= cutShort {
		e.share = max(e.share, second)
	}
	return e
}

// quickSpacings counts the spacings of a stroke over w frames from the first to the
// last that is more than dying of the largest: a short move that goes over into a
// slow settle is a short move.
func quickSpacings(t *motion.Track, k motion.Stroke, w int, largest float64) int {
	first, last := k.Last, k.First
	for i := k.First; i+w <= k.Last; i++ {
		if kit.Chord(t, i, w) > dying*largest {
			first, last = min(first, i), i+w
		}
	}
	return max(last-first, 0) / w
}

// dying is the share of the largest spacing below which a move is over.
const dying = 0.05

// cutShort is the least share of its spacing that a start between two frames
// shows of itself in the first.
const cutShort = 0.4

func hardNote(c *kit.Context, fig *motion.Figure, f hardEdge, start bool) note.Note {
	ch := f.Driver()
	p := c.Study.Scene.Channels[ch].Part
	at, what, which := f.Last, "stops", "last"
	if start {
		at, what, which = f.First, "starts", "first"
	}
	w := c.Study.Window(1.0 / 24)
	n := c.Draft(p, ch, max(f.First, at-2*w), at)
	if start {
		n = c.Draft(p, ch, at, min(at+2*w, f.Last))
	}
	spacing := fmt.Sprintf("%s spacing is %s", which, kit.Percent(f.beside))
	if f.share > f.beside {
		spacing = fmt.Sprintf("%s spacings are %s and %s", which, kit.Percent(f.beside), kit.Percent(f.share))
	}
	n.Message = fmt.Sprintf("%s: %s at full speed, its %s of the largest; add one or two smaller ones",
		c.Span(at, at), c.Says(p, what), spacing)
	n.Weight = c.Weigh(fig, p, f.Size)
	n.Measures = []note.Measure{
		{Name: "edge-spacing", Value: f.share, Unit: "ratio"},
		{Name: "peak-speed", Value: f.stroke.PeakSpeed, Unit: kit.Unit(f.Track.Quality) + "/s"},
	}
	n.Causes = append(n.Causes, p, f.Track.Part)
	return n
}
