package checks

import (
	_ "embed"
	"fmt"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
)

//go:embed hitch.md
var hitchDoc string

// Hitch finds a stutter in a move.
var Hitch = &Check{
	ID:       "hitch",
	Severity: note.Warning,
	Group:    Spacing,
	Title:    "a stutter in a move",
	Doc:      hitchDoc,
	Settings: []Setting{
		{Name: "depth", Unit: "ratio", Default: 0.6, Min: 0.05, Max: 0.6, Doc: "the dip falls below this share of the smaller peak beside it"},
	},
	SilentWhenBlocked: true,
	YieldsTo:          []string{"kinked-arc", "mixed-stepping", "rushed-read"},
	Run:               runHitch,
}

type hitchFinding struct {
	finding
	h motion.Hitch
}

func runHitch(c *Context) []note.Note {
	var notes []note.Note
	deepest := c.Setting("depth")
	for _, fig := range c.living() {
		var all []hitchFinding
		for i, t := range pointTracks(fig) {
			if c.Ctx.Err() != nil {
				return nil
			}
			if r := fig.Points[i].Role; r == motion.HeelPoint || r == motion.ToePoint {
				continue // a foot rolls and pushes off: its speed has many peaks
			}
			for _, h := range t.Hitches() {
				a, b := h.First, h.Last
				if h.Depth >= deepest || !c.Study.Judged(a, b) || c.landsNear(fig, h.Before, h.After+1) {
					continue
				}
				f := hitchFinding{finding{track: t, first: a, last: b}, h}
				f.size = likeFigures(t.Quality, t.PathLength(h.Before, h.After+1))
				f.drivers = c.Study.Drivers(t, h.Before, h.After+1)
				all = append(all, f)
			}
		}
		for _, f := range oneCause(fig, all, func(f *hitchFinding) *finding { return &f.finding }) {
			notes = append(notes, c.hitchNote(fig, f))
		}
	}
	return notes
}

func (c *Context) hitchNote(fig *motion.Figure, f hitchFinding) note.Note {
	ch := f.driver()
	p := c.Study.Scene.Channels[ch].Part
	n := c.draft(p, ch, f.first, f.last)
	n.Message = fmt.Sprintf("%s: %s, the speed dips to %s of the peaks beside it; look for a stray breakdown or a broken tangent",
		c.span(f.first, f.last), c.says(p, "stutters"), percent(f.h.Depth))
	n.Weight = c.weigh(fig, p, f.size)
	n.Measures = []note.Measure{
		{Name: "dip", Value: f.h.Depth, Unit: "ratio"},
		{Name: "peak-to-peak", Value: float64(f.h.After-f.h.Before) / c.Study.Rate, Unit: "s"},
	}
	n.Causes = append(n.Causes, p, f.track.Part)
	return n
}
