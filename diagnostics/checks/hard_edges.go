package checks

import (
	_ "embed"
	"fmt"
	"sort"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
)

//go:embed hard_start.md
var hardStartDoc string

//go:embed hard_stop.md
var hardStopDoc string

// hardSettings serve both checks.
var hardSettings = []Setting{
	{Name: "share", Unit: "ratio", Default: 0.9, Min: 0.3, Max: 1, Doc: "the spacing next to the hold is at least this share of the stroke's largest"},
	{Name: "min_time", Unit: "s", Default: 0.2, Min: 0, Max: 10, Doc: "shortest stroke"},
	{Name: "min_peak", Unit: "figure/s", Default: 0.24, Min: 0, Max: 100, Doc: "slowest peak of a point; a turn needs 40 degrees/s and a weight 1.4 ranges/s for the default, in proportion otherwise"},
}

// HardStart finds moves that leave a hold at full speed.
var HardStart = &Check{
	ID: "hard-start", Severity: note.Information, Group: Spacing,
	Title: "a move that starts without an ease", Doc: hardStartDoc, Settings: hardSettings,
	SilentWhenBlocked: true,
	YieldsTo:          []string{"even-spacing", "pop", "knee-pop"},
	Run:               func(c *Context) []note.Note { return runHard(c, true) },
}

// HardStop finds moves that run into a hold at full speed.
var HardStop = &Check{
	ID: "hard-stop", Severity: note.Information, Group: Spacing,
	Title: "a move that stops without an ease", Doc: hardStopDoc, Settings: hardSettings,
	SilentWhenBlocked: true,
	YieldsTo:          []string{"even-spacing", "pop", "knee-pop"},
	Run:               func(c *Context) []note.Note { return runHard(c, false) },
}

type hardEdge struct {
	finding
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

func runHard(c *Context, start bool) []note.Note {
	var notes []note.Note
	for _, fig := range c.living() {
		var all []hardEdge
		for _, t := range seenTracks(fig) {
			if c.Ctx.Err() != nil {
				return nil
			}
			if b := fig.LabelOf(t.Part).Body; b == motion.Lids || b == motion.Eyes || b == motion.Mouth {
				continue // a blink, a dart of the eyes and a sound start and stop at once
			}
			all = append(all, c.hardEdges(fig, t, start)...)
		}
		for _, f := range oneCause(fig, all, func(f *hardEdge) *finding { return &f.finding }) {
			notes = append(notes, c.hardNote(fig, f, start))
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
func (c *Context) hardEdges(fig *motion.Figure, t *motion.Track, start bool) []hardEdge {
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
			float64(k.Last-k.First)/s.Rate < c.Setting("min_time")-1e-9 || k.PeakSpeed < quickest(t.Quality, c.Setting("min_peak")) {
			continue
		}
		if t.Prominence(k) < 1 {
			continue // 3 degrees, a tenth of a weight: nobody sees how it starts
		}
		e := edgeOf(t, k, start)
		if e.seconds < c.Setting("min_time")-1e-9 || e.share < c.Setting("share") || c.nearContact(fig, edge) || c.stepsOff(fig, t.Part, edge) || c.givesWay(fig, t, k.First, k.Last) {
			continue
		}
		f := hardEdge{finding{track: t, first: k.First, last: k.Last, size: likeFigures(t.Quality, k.Length)}, k, e}
		f.drivers = s.Drivers(t, k.First, k.Last)
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
		largest = max(largest, chord(t, i, w))
	}
	if (k.Last-k.First)/w < 4 || largest == 0 {
		return edgeSpacing{}
	}
	at := func(j int) float64 {
		if start {
			return chord(t, k.First+j*w, w) / largest
		}
		return chord(t, k.Last-(j+1)*w, w) / largest
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
		if chord(t, i, w) > dying*largest {
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

func (c *Context) hardNote(fig *motion.Figure, f hardEdge, start bool) note.Note {
	ch := f.driver()
	p := c.Study.Scene.Channels[ch].Part
	at, what, which := f.last, "stops", "last"
	if start {
		at, what, which = f.first, "starts", "first"
	}
	w := c.Study.Window(1.0 / 24)
	n := c.draft(p, ch, max(f.first, at-2*w), at)
	if start {
		n = c.draft(p, ch, at, min(at+2*w, f.last))
	}
	spacing := fmt.Sprintf("%s spacing is %s", which, percent(f.beside))
	if f.share > f.beside {
		spacing = fmt.Sprintf("%s spacings are %s and %s", which, percent(f.beside), percent(f.share))
	}
	n.Message = fmt.Sprintf("%s: %s at full speed, its %s of the largest; add one or two smaller ones",
		c.span(at, at), c.says(p, what), spacing)
	n.Weight = c.weigh(fig, p, f.size)
	n.Measures = []note.Measure{
		{Name: "edge-spacing", Value: f.share, Unit: "ratio"},
		{Name: "peak-speed", Value: f.stroke.PeakSpeed, Unit: unit(f.track.Quality) + "/s"},
	}
	n.Causes = append(n.Causes, p, f.track.Part)
	return n
}
