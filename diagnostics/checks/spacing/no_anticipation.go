package spacing

import (
	_ "embed"
	"fmt"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/track"
	"curvelint/diagnostics/note"
	"curvelint/diagnostics/words"
	"curvelint/parse/scene"
)

//go:embed no_anticipation.md
var noAnticipationDoc string

// The settings of no-anticipation.
var (
	noAnticipationMinPeak = kit.Number{Name: "min_peak", Unit: "figure/s", Default: 0.72, Min: 0, Max: 100, Doc: "slowest peak speed of a fast move"}
	noAnticipationEase    = kit.Seconds{Name: "ease", Default: 2.0 / 24, Min: 0, Max: 10, Doc: "a move that takes longer to its speed prepares itself"}
	noAnticipationBack    = kit.Number{Name: "back", Unit: "ratio", Default: 0.02, Min: 0, Max: 1, Doc: "least move the other way, as a share of the chord"}
	noAnticipationMinTurn = kit.Number{Name: "min_turn", Unit: "degrees", Default: 30, Min: 0, Max: 360, Doc: "smallest turn of the joint that makes the move"}
	noAnticipationBefore  = kit.Seconds{Name: "before", Default: 0.4, Min: 0, Max: 10, Doc: "time before the move in which it may be"}
)

// The limits of no-anticipation.
var (
	noAnticipationLanding = kit.Limit{Name: "landing", Value: 0.1, Unit: "s",
		Doc:    "a move that starts so near to a landing or lifting foot is shaken, not started",
		Source: "common practice, no source"}
)

// NoAnticipation finds fast moves from a dead start.
var NoAnticipation = &kit.Check{
	ID:                "no-anticipation",
	Severity:          note.Information,
	Group:             kit.Spacing,
	Title:             "a fast move from a dead start",
	Doc:               noAnticipationDoc,
	Settings:          []kit.Setting{&noAnticipationMinPeak, &noAnticipationEase, &noAnticipationBack, &noAnticipationMinTurn, &noAnticipationBefore},
	Limits:            []*kit.Limit{&noAnticipationLanding, &kit.FilmFrame, &kit.Interruption, &kit.Rounding},
	SilentWhenBlocked: true,
	YieldsTo:          []string{"hard-start", "pop"},
	Run:               runNoAnticipation,
}

type deadStart struct {
	kit.Candidate
	stroke track.Stroke
}

func runNoAnticipation(c *kit.Context) []note.Note {
	var notes []note.Note
	for _, fig := range c.Living() {
		if !kit.Acts(fig) {
			continue
		}
		var all []deadStart
		for i := range fig.Points {
			if c.Ctx.Err() != nil {
				return nil
			}
			all = append(all, deadStarts(c, fig, fig.CarriedTrack(i))...)
		}
		for _, f := range kit.OneCause(fig, all, func(f *deadStart) *kit.Candidate { return &f.Candidate }) {
			ch := f.Driver()
			p := c.Study.Scene.Channels[ch].Part
			n := c.Draft(p, ch, f.First, f.Last)
			n.Message = fmt.Sprintf("%s: %s is at %s from a dead start; add a small move the other way before it",
				c.Span(f.First, f.Last), f.Track.Name, words.Amount("figure/s", f.stroke.PeakSpeed))
			n.Weight = c.Weigh(fig, f.Track.Part, f.Size)
			n.Measures = []note.Measure{
				{Name: "peak-speed", Value: f.stroke.PeakSpeed, Unit: "figure/s"},
				{Name: "leaves-over", Value: f.stroke.EaseIn * c.Study.Rate, Unit: "frames"},
			}
			n.Causes = append(n.Causes, p, f.Track.Part)
			notes = append(notes, n)
		}
	}
	return notes
}

// deadStarts finds the fast strokes of a track that start from a hold at once.
func deadStarts(c *kit.Context, fig *motion.Figure, t *track.Track) []deadStart {
	s := c.Study
	w := noAnticipationLanding.Frames(s.Rate)
	var out []deadStart
	for _, k := range t.Strokes() {
		if k.PeakSpeed < noAnticipationMinPeak.In(c) || k.EaseIn >= noAnticipationEase.In(c)-kit.Rounding.Value || k.First == 0 || !k.FromRest || !s.Judged(k.First, k.Last) {
			continue
		}
		r, ok := t.RestAt(k.First)
		if !ok || !r.Hold || goesBack(c, t, k) || kit.LandsNear(c, fig, k.First-w, k.First+w) || kit.NearContact(c, fig, k.First) {
			continue
		}
		f := deadStart{kit.Candidate{Track: t, First: k.First, Last: k.Last, Size: k.Length}, k}
		f.Drivers = s.Drivers(t, k.First, k.Last)
		// What another part carries along starts when that part does.
		if len(f.Drivers) == 0 || fig.GroupOf(s.Scene.Channels[f.Driver()].Part) != fig.GroupOf(t.Part) {
			continue
		}
		if p := s.Scene.Channels[f.Driver()].Part; small(c, p, k) {
			continue
		}
		out = append(out, f)
	}
	return out
}

// small reports whether the part makes the stroke by a turn too small to need a
// preparation: the glance of a head that is the whole figure.
func small(c *kit.Context, p scene.PartID, k track.Stroke) bool {
	t := c.Study.RotationTrack(p)
	return t != nil && c.Study.LocalTrack(p) == nil && t.PathLength(k.First, k.Last) < noAnticipationMinTurn.In(c)
}

// goesBack reports whether the track moves against the first third of the
// stroke in the time before it.
func goesBack(c *kit.Context, t *track.Track, k track.Stroke) bool {
	third := k.First + max((k.Last-k.First)/3, 1)
	d := r3.Sub(t.At(third), t.At(k.First))
	n := r3.Norm(d)
	if n == 0 {
		return true
	}
	for i := max(0, k.First-noAnticipationBefore.Frames(c)); i < k.First; i++ {
		if r3.Dot(r3.Sub(t.At(i), t.At(k.First)), d)/n >= noAnticipationBack.In(c)*k.Chord {
			return true
		}
	}
	return false
}
