package holds

import (
	_ "embed"
	"fmt"

	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/body"
	"curvelint/diagnostics/motion/track"
	"curvelint/diagnostics/note"
)

//go:embed dead_stare.md
var deadStareDoc string

// The settings of dead-stare.
var (
	deadStareMinTime = kit.Seconds{Name: "min_time", Default: 4, Min: 0.5, Max: 100, Doc: "shortest stare"}
)

// DeadStare finds long stretches without any motion of eyes and lids.
var DeadStare = &kit.Check{
	ID:                "dead-stare",
	Severity:          note.Information,
	Group:             kit.Holds,
	Title:             "eyes and lids with no life",
	Doc:               deadStareDoc,
	Settings:          []kit.Setting{&deadStareMinTime},
	SilentWhenBlocked: true,
	YieldsTo:          []string{"frozen-hold"},
	Run:               runDeadStare,
}

func runDeadStare(c *kit.Context) []note.Note {
	s := c.Study
	least := deadStareMinTime.Frames(c)
	lo, hi := s.JudgedRange()
	var notes []note.Note
	for _, fig := range c.Living() {
		var tracks []*track.Track
		var first *motion.Group
		for _, g := range fig.Groups {
			if b := g.Label.Body; b == body.Eyes || b == body.Lids {
				tracks = append(tracks, g.LocalTracks()...)
				if first == nil && len(g.LocalTracks()) > 0 {
					first = g
				}
			}
		}
		if len(tracks) == 0 || c.Ctx.Err() != nil {
			continue
		}
		still := track.Stillness(s.N, tracks)
		for i := lo; i < min(hi, len(still)); i++ {
			if !still[i] {
				continue
			}
			a := i
			for i < min(hi, len(still)) && still[i] {
				i++
			}
			if i-a < least {
				continue
			}
			p := tracks[0].Part
			n := c.Draft(p, kit.AnyChannel(c, p), a, i)
			n.Message = fmt.Sprintf("%s: eyes and lids do not move for %.1f s; a blink or a small dart keeps them alive", c.Span(a, i), float64(i-a)/s.Rate)
			n.Weight = c.Weigh(fig, p, 0.1)
			n.Measures = []note.Measure{{Name: "stare", Value: float64(i-a) / s.Rate, Unit: "s"}}
			n.Causes = append(n.Causes, p)
			notes = append(notes, n)
		}
	}
	return notes
}
