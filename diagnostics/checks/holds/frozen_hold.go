package holds

import (
	_ "embed"
	"fmt"
	"slices"

	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/body"
	"curvelint/diagnostics/motion/track"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
)

// inContact reports whether the part carries a point that touches something for
// most of the hold.
func inContact(c *kit.Context, fig *motion.Figure, p scene.PartID, h hold) bool {
	for j, pt := range fig.Points {
		if pt.Role != body.HandPoint || !(c.Study.IsAncestor(p, pt.Part) || pt.Part == p) {
			continue
		}
		if g := fig.GroupOf(p); g == nil || g != fig.GroupOf(pt.Part) {
			continue // a chest does not touch what its hand holds
		}
		for _, k := range fig.HandContacts(j) {
			if mostly(min(k.Last, h.last)-max(k.First, h.first), h.last-h.first) {
				return true
			}
		}
	}
	return false
}

//go:embed frozen_hold.md
var frozenHoldDoc string

// The settings of frozen-hold.
var (
	frozenHoldMinTime    = kit.Seconds{Name: "min_time", Default: 0.33, Min: 0.05, Max: 100, Doc: "shortest hold between two strokes"}
	frozenHoldMinEndTime = kit.Seconds{Name: "min_end_time", Default: 0.5, Min: 0.05, Max: 100, Doc: "shortest hold at the end of the shot"}
)

// FrozenHold finds holds in which nothing at all changes.
var FrozenHold = &kit.Check{
	ID:                "frozen-hold",
	Severity:          note.Warning,
	Group:             kit.Holds,
	Title:             "a perfectly dead hold",
	Doc:               frozenHoldDoc,
	Settings:          []kit.Setting{&frozenHoldMinTime, &frozenHoldMinEndTime},
	Limits:            []*kit.Limit{&beforeHold, &sameTime},
	SilentWhenBlocked: true,
	Run:               runFrozenHold,
}

func runFrozenHold(c *kit.Context) []note.Note {
	var notes []note.Note
	for _, fig := range c.Living() {
		if c.Ctx.Err() != nil {
			return nil
		}
		notes = append(notes, frozenFigure(c, fig)...)
	}
	return notes
}

// frozenFigure reports the holds of the whole figure, and of its main parts
// while something else in it moves.
func frozenFigure(c *kit.Context, fig *motion.Figure) []note.Note {
	s := c.Study
	whole := holds(c, track.Stillness(s.N, fig.PoseTracks()))
	if len(fig.Points) == 1 && fig.Points[0].Role == body.LonePoint {
		return nil // a lone transform is a prop: it may lie where it lies
	}
	var notes []note.Note
	for _, h := range whole {
		n := frozenNote(c, fig, fig.Root, h, c.Severity)
		n.Message = fmt.Sprintf("%s: the whole figure is dead still for %s; let the parts drift at slightly different rates", c.Span(h.first, h.last), frameCount(h))
		notes = append(notes, n)
	}
	for _, p := range frozenParts(fig) {
		for _, h := range partHolds(c, fig, p) {
			if covered(h, whole) {
				continue
			}
			n := frozenNote(c, fig, p, h, max(c.Severity, note.Information))
			n.Message = fmt.Sprintf("%s: %s is dead still for %s while the rest lives; give it some drift", c.Span(h.first, h.last), c.Name(p), frameCount(h))
			if !sameHold(notes, s, n) {
				notes = append(notes, n)
			}
		}
	}
	return notes
}

// frozenParts are the parts judged on their own, highest first, so that a chest
// that is still keeps its head and hands from being reported too.
func frozenParts(fig *motion.Figure) []scene.PartID {
	var out []scene.PartID
	seen := map[string]bool{}
	for _, p := range fig.Parts {
		l := fig.LabelOf(p)
		wanted := l.Body == body.Chest || l.Body == body.Head || (l.Body == body.Arm && l.Place == body.End)
		g := fig.GroupOf(p)
		if !wanted || g == nil || seen[g.Name+l.Body.String()] {
			continue
		}
		seen[g.Name+l.Body.String()] = true
		out = append(out, p)
	}
	return out
}

// partHolds finds where a part stands still relative to what carries the
// figure: it and everything above it, down to the figure's root, keep still. (A
// hand that keeps its place while the body moves is in contact.) The part must
// move somewhere in the clip.
func partHolds(c *kit.Context, fig *motion.Figure, p scene.PartID) []hold {
	s := c.Study
	var tracks []*track.Track
	for q := p; q != scene.NoPart && q != fig.Carrier; q = s.Scene.Parts[q].Parent {
		tracks = append(tracks, s.LocalTracks(q)...)
	}
	if len(tracks) == 0 || len(s.LocalTracks(p)) == 0 {
		return nil
	}
	var out []hold
	for _, h := range holds(c, track.Stillness(s.N, tracks)) {
		if !inContact(c, fig, p, h) {
			out = append(out, h)
		}
	}
	return out
}

// holds turns steps of stillness into holds that last long enough between two
// strokes or at the end of the shot.
func holds(c *kit.Context, still []bool) []hold {
	lo, hi := c.Study.JudgedRange()
	between, end := frozenHoldMinTime.Frames(c), frozenHoldMinEndTime.Frames(c)
	var out []hold
	for i := 0; i < len(still); i++ {
		if !still[i] {
			continue
		}
		a := i
		for i < len(still) && still[i] {
			i++
		}
		h := hold{max(a, lo), min(i, hi)}
		atEnd := i >= min(len(still), hi)
		// The frames before the first stroke are a pose to start from.
		if a == 0 || !slices.Contains(still[:a], false) {
			continue
		}
		if n := h.last - h.first; n >= end || (n >= between && !atEnd) {
			out = append(out, h)
		}
	}
	return out
}

// frozenNote anchors at the last key of the stroke before the hold.
func frozenNote(c *kit.Context, fig *motion.Figure, p scene.PartID, h hold, sev note.Severity) note.Note {
	s := c.Study
	part, ch := strokeBefore(c, fig, p, h.first)
	n := c.Draft(part, ch, h.first, h.last)
	n.Part, n.PartID = s.Scene.Parts[p].Path, p
	n.Severity = sev
	n.Measures = []note.Measure{
		{Name: "hold", Value: float64(h.last - h.first + 1), Unit: "frames"},
		{Name: "hold-time", Value: float64(h.last-h.first) / s.Rate, Unit: "s"},
	}
	// A hold has no travel of its own: it weighs as what a body would do in it.
	n.Weight = c.Weigh(fig, p, 0.1*float64(h.last-h.first)/s.Rate)
	if p == fig.Root {
		n.Weight *= 2
	}
	n.Causes = []scene.PartID{p}
	return n
}

func frameCount(h hold) string {
	return fmt.Sprintf("%d frames", h.last-h.first+1)
}

// covered reports whether most of h lies in one of the holds.
func covered(h hold, holds []hold) bool {
	for _, o := range holds {
		if mostly(min(h.last, o.last)-max(h.first, o.first), h.last-h.first) {
			return true
		}
	}
	return false
}

// sameHold reports whether a note already speaks of the same hold at a part
// above.
func sameHold(notes []note.Note, s *motion.Study, n note.Note) bool {
	for _, m := range notes {
		if overlap := min(m.Last, n.Last) - max(m.First, n.First); overlap > sameTime.Value*(n.Last-n.First) && s.IsAncestor(m.PartID, n.PartID) {
			return true
		}
	}
	return false
}
