package spacing

import (
	"fmt"
	"sort"

	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/body"
	"curvelint/diagnostics/motion/track"
	"curvelint/diagnostics/note"
	"curvelint/diagnostics/words"
	"curvelint/parse/scene"
)

// The limits of hard-start and hard-stop.
var (
	stepTime = kit.Limit{Name: "step_time", Value: 0.16, Unit: "s",
		Doc:    "so long before and after its foot lands or lifts the floor has a say in how a leg moves",
		Source: "common practice, no source"}
	dying = kit.Limit{Name: "dying", Value: 0.05, Unit: "ratio",
		Doc:    "a spacing below this share of the largest belongs to the settle that a move dies in",
		Source: "common practice, no source"}
	cutShort = kit.Limit{Name: "cut_short", Value: 0.4, Unit: "ratio",
		Doc:    "the least share of its spacing that a start between two frames shows in the first; where it is smaller it is an ease of one frame",
		Source: "common practice, no source"}
	allButLargest = kit.Limit{Name: "all_but_largest", Value: 0.97, Unit: "ratio",
		Doc:    "the second spacing counts from this share of the largest",
		Source: "common practice, no source"}
	longStroke = kit.Limit{Name: "long_stroke", Value: 8, Unit: "count",
		Doc:    "in a stroke of so many spacings an eased start is not over by the second",
		Source: "common practice, no source"}
	shortStroke = kit.Limit{Name: "short_stroke", Value: 4, Unit: "count",
		Doc:    "with fewer spacings an edge cannot be told from the middle",
		Source: "common practice, no source"}
	prominent = kit.Limit{Name: "prominent", Value: 1, Unit: "ratio",
		Doc:    "in multiples of 3 degrees, a tenth of a weight, 5 % of figure size: nobody sees how a smaller stroke starts",
		Source: "the floors of motion in the study"}
	turnForWay = kit.Limit{Name: "turn_for_way", Value: 12 / 0.07, Unit: "degrees",
		Doc:    "so many degrees of a turn count as one figure size of a path",
		Source: "even-spacing's least speeds, 12 degrees/s and 0.07 figure/s"}
	weightForWay = kit.Limit{Name: "weight_for_way", Value: 0.4 / 0.07, Unit: "range",
		Doc:    "so many ranges of a weight count as one figure size of a path",
		Source: "even-spacing's least speeds, 0.4 range/s and 0.07 figure/s"}
)

// edgeLimits are those of hard-start and hard-stop.
var edgeLimits = []*kit.Limit{&stepTime, &dying, &cutShort, &allButLargest, &longStroke, &shortStroke, &prominent, &turnForWay, &weightForWay,
	&kit.FilmFrame, &kit.Interruption, &kit.StandsStill, &kit.OwnTurn, &kit.Rounding}

// stepsOff reports whether the part belongs to a leg whose foot stands at frame
// index i or about then: such a leg gives way to the body, and the floor pushes it
// off and stops it.
func stepsOff(c *kit.Context, fig *motion.Figure, p scene.PartID, i int) bool {
	g := fig.GroupOf(p)
	if g == nil || g.Label.Body != body.Leg {
		return false
	}
	w := stepTime.Frames(c.Study.Rate)
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
	stroke track.Stroke
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
			if b := fig.LabelOf(t.Part).Body; b == body.Lids || b == body.Eyes || b == body.Mouth {
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
// even spacing's least speeds stand.
func quickest(q track.Quality, figures float64) float64 {
	return figures * [...]float64{track.Position: 1, track.Rotation: turnForWay.Value, track.Value: weightForWay.Value}[q]
}

// hardEdges finds the strokes of a track that meet a hold at nearly their
// largest spacing.
func hardEdges(c *kit.Context, fig *motion.Figure, t *track.Track, start bool, l hardLimits) []hardEdge {
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
			float64(k.Last-k.First)/s.Rate < l.minTime-kit.Rounding.Value || k.PeakSpeed < quickest(t.Quality, l.minPeak) {
			continue
		}
		if t.Prominence(k) < prominent.Value {
			continue
		}
		e := edgeOf(t, k, start)
		if e.seconds < l.minTime-kit.Rounding.Value || e.share < l.share || kit.NearContact(c, fig, edge) || stepsOff(c, fig, t.Part, edge) || kit.GivesWay(c, fig, t, k.First, k.Last) {
			continue
		}
		f := hardEdge{kit.Candidate{Track: t, First: k.First, Last: k.Last, Size: kit.LikeFigures(t.Quality, k.Length)}, k, e}
		f.Drivers = s.Drivers(t, k.First, k.Last)
		out = append(out, f)
	}
	return out
}

// edgeOf measures the spacing at the start or end of a stroke, over a film frame, as a
// share of its largest. A move may start between two frames and then shows only
// part of its first spacing: in a stroke of eight spacings and more, too long
// for an eased start to be over by then, the second counts when it is all but
// the largest and the first at least cutShort of that; where the first is smaller,
// it is an ease of one frame. With fewer than four spacings an edge cannot be told
// from the middle.
func edgeOf(t *track.Track, k track.Stroke, start bool) edgeSpacing {
	w := kit.FilmFrame.Frames(t.Rate)
	largest := 0.0
	for i := k.First; i+w <= k.Last; i++ {
		largest = max(largest, kit.Chord(t, i, w))
	}
	if (k.Last-k.First)/w < int(shortStroke.Value) || largest == 0 {
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
	if second := at(1); n >= int(longStroke.Value) && second > allButLargest.Value && e.beside >= cutShort.Value {
		e.share = max(e.share, second)
	}
	return e
}

// quickSpacings counts the spacings of a stroke over w frames from the first to the
// last that is more than dying of the largest: a short move that goes over into a
// slow settle is a short move.
func quickSpacings(t *track.Track, k track.Stroke, w int, largest float64) int {
	first, last := k.Last, k.First
	for i := k.First; i+w <= k.Last; i++ {
		if kit.Chord(t, i, w) > dying.Value*largest {
			first, last = min(first, i), i+w
		}
	}
	return max(last-first, 0) / w
}

func hardNote(c *kit.Context, fig *motion.Figure, f hardEdge, start bool) note.Note {
	ch := f.Driver()
	p := c.Study.Scene.Channels[ch].Part
	at, what, which := f.Last, "stops", "last"
	if start {
		at, what, which = f.First, "starts", "first"
	}
	w := kit.FilmFrame.Frames(c.Study.Rate)
	n := c.Draft(p, ch, max(f.First, at-2*w), at)
	if start {
		n = c.Draft(p, ch, at, min(at+2*w, f.Last))
	}
	spacing := fmt.Sprintf("%s spacing is %s", which, words.Percent(f.beside))
	if f.share > f.beside {
		spacing = fmt.Sprintf("%s spacings are %s and %s", which, words.Percent(f.beside), words.Percent(f.share))
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
