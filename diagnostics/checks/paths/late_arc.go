package paths

import (
	_ "embed"
	"fmt"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/motion/body"
	"curvelint/diagnostics/motion/track"
	"curvelint/diagnostics/note"
	"curvelint/diagnostics/words"
)

//go:embed late_arc.md
var lateArcDoc string

// The settings of late-arc.
var (
	lateArcShare    = kit.Number{Name: "share", Unit: "ratio", Default: 0.8, Min: 0.3, Max: 1, Doc: "share of the turning that lies in the first or last quarter of the path"}
	lateArcDepth    = kit.Number{Name: "depth", Unit: "ratio", Default: 0.05, Min: 0, Max: 1, Doc: "shallowest arc that is judged"}
	lateArcMinChord = kit.Number{Name: "min_chord", Unit: "figure", Default: 0.08, Min: 0, Max: 100, Doc: "shortest chord"}
)

// LateArc finds paths that curve only at one end.
var LateArc = &kit.Check{
	ID:                "late-arc",
	Severity:          note.Information,
	Group:             kit.Paths,
	Title:             "all the curve at one end",
	Doc:               lateArcDoc,
	Settings:          []kit.Setting{&lateArcShare, &lateArcDepth, &lateArcMinChord},
	Limits:            []*kit.Limit{&kit.Gather, &carriedShare, &airborne, &fewestSpacings},
	SilentWhenBlocked: true,
	YieldsTo:          []string{"pop"},
	Run:               runLateArc,
}

func runLateArc(c *kit.Context) []note.Note {
	var notes []note.Note
	for _, fig := range c.Living() {
		if !kit.Acts(fig) {
			continue // a thing that is carried goes where the hands take it
		}
		var all []arcFinding
		eachArc(c, fig, lateArcMinChord.In(c), func(i int, t *track.Track, k track.Stroke) {
			depth := t.ArcDepth(k)
			r := fig.Points[i].Role
			if depth < lateArcDepth.In(c) || r == body.HeelPoint || r == body.ToePoint || turnsBack(t, k) {
				return
			}
			if r != body.RootPoint && carriedAlong(c, fig, k) {
				return // the bend is the body's
			}
			near := kit.Gather.Frames(c.Study.Rate)
			if jumps(c, fig, k.First-near, k.Last+near) {
				return // a body turns where it gathers, pushes off and lands; gravity does the rest
			}
			turn := t.Turning(k)
			share, early := turn.Late, false
			if turn.Early > share {
				share, early = turn.Early, true
			}
			if share <= lateArcShare.In(c) {
				return
			}
			f := arcFinding{Candidate: kit.Candidate{Track: t, First: k.First, Last: k.Last, Size: k.Length}, point: i, stroke: k, depth: depth, share: share, early: early}
			f.Drivers = c.Study.Drivers(t, k.First, k.Last)
			all = append(all, f)
		})
		for _, f := range kit.OneCause(fig, all, func(f *arcFinding) *kit.Candidate { return &f.Candidate }) {
			n := arcNote(c, fig, f)
			end := "last"
			if f.early {
				end = "first"
			}
			n.Message = fmt.Sprintf("%s: %s makes %s of its curve in the %s quarter of the path; spread the arc along the move",
				c.Span(f.First, f.Last), kit.PointName(c, fig, f.point), words.Percent(f.share), end)
			n.Measures = append(n.Measures, note.Measure{Name: "share-of-turning", Value: f.share, Unit: "ratio"})
			notes = append(notes, n)
		}
	}
	return notes
}

// turnsBack reports whether the path goes back on itself within a stroke, as for a
// frame that pops: that is no bend of an arc.
func turnsBack(t *track.Track, k track.Stroke) bool {
	for i := k.First + 1; i < k.Last; i++ {
		if r3.Dot(t.Step(i-1), t.Step(i)) < 0 {
			return true
		}
	}
	return false
}
