package checks

import (
	_ "embed"
	"fmt"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
)

//go:embed no_anticipation.md
var noAnticipationDoc string

// NoAnticipation finds fast moves from a dead start.
var NoAnticipation = &Check{
	ID:       "no-anticipation",
	Severity: note.Information,
	Group:    Spacing,
	Title:    "a fast move from a dead start",
	Doc:      noAnticipationDoc,
	Settings: []Setting{
		{Name: "min_peak", Unit: "figure/s", Default: 0.72, Min: 0, Max: 100, Doc: "slowest peak speed of a fast move"},
		{Name: "ease", Unit: "s", Default: 2.0 / 24, Min: 0, Max: 10, Doc: "a move that takes longer to its speed prepares itself"},
		{Name: "back", Unit: "ratio", Default: 0.02, Min: 0, Max: 1, Doc: "least move the other way, as a share of the chord"},
		{Name: "min_turn", Unit: "degrees", Default: 30, Min: 0, Max: 360, Doc: "smallest turn of the joint that makes the move"},
		{Name: "before", Unit: "s", Default: 0.4, Min: 0, Max: 10, Doc: "time before the move in which it may be"},
	},
	SilentWhenBlocked: true,
	YieldsTo:          []string{"hard-start", "pop"},
	Run:               runNoAnticipation,
}

type deadStart struct {
	finding
	stroke motion.Stroke
}

func runNoAnticipation(c *Context) []note.Note {
	var notes []note.Note
	for _, fig := range c.living() {
		if !acts(fig) {
			continue
		}
		var all []deadStart
		for i := range fig.Points {
			if c.Ctx.Err() != nil {
				return nil
			}
			all = append(all, c.deadStarts(fig, fig.CarriedTrack(i))...)
		}
		for _, f := range oneCause(fig, all, func(f *deadStart) *finding { return &f.finding }) {
			ch := f.driver()
			p := c.Study.Scene.Channels[ch].Part
			n := c.draft(p, ch, f.first, f.last)
			n.Message = fmt.Sprintf("%s: %s is at %.1f figure sizes/s from a dead start; add a small move the other way before it",
				c.span(f.first, f.last), f.track.Name, f.stroke.PeakSpeed)
			n.Weight = c.weigh(fig, f.track.Part, f.size)
			n.Measures = []note.Measure{
				{Name: "peak-speed", Value: f.stroke.PeakSpeed, Unit: "figure/s"},
				{Name: "ease-in", Value: f.stroke.EaseIn * c.Study.Rate, Unit: "frames"},
			}
			n.Causes = append(n.Causes, p, f.track.Part)
			notes = append(notes, n)
		}
	}
	return notes
}

// acts reports whether the figure has a body: a prop is moved by others and
// needs no anticipation.
func acts(fig *motion.Figure) bool {
	return slices.ContainsFunc(fig.Groups, func(g *motion.Group) bool { return g.Label.Body != motion.NoBody })
}

// deadStarts finds the fast strokes of a track that start from a hold at once.
func (c *Context) deadStarts(fig *motion.Figure, t *motion.Track) []deadStart {
	s := c.Study
	w := s.Window(0.1)
	var out []deadStart
	for _, k := range t.Strokes() {
		if k.PeakSpeed < c.Setting("min_peak") || k.EaseIn >= c.Setting("ease")-1e-9 || k.First == 0 || !k.FromRest || !s.Judged(k.First, k.Last) {
			continue
		}
		r, ok := t.RestAt(k.First)
		if !ok || !r.Hold || c.goesBack(t, k) || c.landsNear(fig, k.First-w, k.First+w) || c.nearContact(fig, k.First) {
			continue
		}
		f := deadStart{finding{track: t, first: k.First, last: k.Last, size: k.Length}, k}
		f.drivers = s.Drivers(t, k.First, k.Last)
		// What another part carries along starts when that part does.
		if len(f.drivers) == 0 || fig.GroupOf(s.Scene.Channels[f.driver()].Part) != fig.GroupOf(t.Part) {
			continue
		}
		if p := s.Scene.Channels[f.driver()].Part; c.small(p, k) {
			continue
		}
		out = append(out, f)
	}
	return out
}

// small reports whether the part makes the stroke by a turn too small to need a
// preparation: the glance of a head that is the whole figure.
func (c *Context) small(p scene.PartID, k motion.Stroke) bool {
	t := c.Study.RotationTrack(p)
	return t != nil && c.Study.LocalTrack(p) == nil && t.PathLength(k.First, k.Last) < c.Setting("min_turn")
}

// goesBack reports whether the track moves against the first third of the
// stroke in the time before it.
func (c *Context) goesBack(t *motion.Track, k motion.Stroke) bool {
	third := k.First + max((k.Last-k.First)/3, 1)
	d := r3.Sub(t.At(third), t.At(k.First))
	n := r3.Norm(d)
	if n == 0 {
		return true
	}
	for i := max(0, k.First-c.Study.Window(c.Setting("before"))); i < k.First; i++ {
		if r3.Dot(r3.Sub(t.At(i), t.At(k.First)), d)/n >= c.Setting("back")*k.Chord {
			return true
		}
	}
	return false
}
