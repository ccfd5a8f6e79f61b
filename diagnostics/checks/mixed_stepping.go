package checks

import (
	_ "embed"
	"fmt"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
)

//go:embed mixed_stepping.md
var mixedSteppingDoc string

// MixedStepping finds parts on twos among parts on ones, or the reverse.
var MixedStepping = &Check{
	ID:       "mixed-stepping",
	Severity: note.Information,
	Group:    Spacing,
	Title:    "twos among ones by accident",
	Doc:      mixedSteppingDoc,
	Settings: []Setting{
		{Name: "min_time", Unit: "s", Default: 0.25, Min: 0.1, Max: 10, Doc: "shortest stretch"},
	},
	SilentWhenBlocked: true,
	Run:               runMixedStepping,
}

func runMixedStepping(c *Context) []note.Note {
	var notes []note.Note
	for _, fig := range c.living() {
		var groups []*motion.Group
		moved := map[*motion.Group][]bool{}
		for _, g := range fig.Groups {
			if tracks := g.LocalTracks(); len(tracks) > 0 {
				still := motion.Stillness(c.Study.N, tracks)
				for i := range still {
					still[i] = !still[i]
				}
				groups, moved[g] = append(groups, g), still
			}
		}
		if len(groups) < 3 || c.Ctx.Err() != nil {
			continue
		}
		for _, g := range groups {
			if n, ok := c.oddOne(fig, g, groups, moved); ok {
				notes = append(notes, n)
			}
		}
	}
	return notes
}

// oddOne finds the longest stretch in which a group is on twos while the rest of
// the figure is on ones, or the reverse.
func (c *Context) oddOne(fig *motion.Figure, g *motion.Group, groups []*motion.Group, moved map[*motion.Group][]bool) (note.Note, bool) {
	s := c.Study
	least := s.Window(c.Setting("min_time"))
	var best motion.Stepped
	for _, k := range motion.SteppedStretches(moved[g], s.Rate) {
		if k.Last-k.First < least || !s.Judged(k.First, k.Last) || k.Last-k.First <= best.Last-best.First {
			continue
		}
		others, against := 0, 0
		for _, o := range groups {
			if o == g {
				continue
			}
			switch stepIn(moved[o], k.First, k.Last, s.Rate) {
			case 0:
			case k.Step:
				others++
			default:
				others++
				against++
			}
		}
		// One other part is no figure: the rest must be of one mind.
		if others >= 2 && against == others {
			best = k
		}
	}
	if best.Step == 0 {
		return note.Note{}, false
	}
	p := g.Top()
	for _, q := range g.Parts {
		if len(s.Channels(q)) > 0 {
			p = q
			break
		}
	}
	n := c.draft(p, c.movingChannel(p), best.First, best.Last)
	what, rest := "twos", "ones"
	if best.Step == 1 {
		what, rest = rest, what
	}
	n.Message = fmt.Sprintf("%s: %s is on %s while the rest is on %s; check how it was baked or keyed", c.span(best.First, best.Last), g.Name, what, rest)
	n.Weight = c.weigh(fig, p, 0.1)
	n.Measures = []note.Measure{{Name: "time", Value: float64(best.Last-best.First) / s.Rate, Unit: "s"}}
	n.Causes = append(n.Causes, p)
	return n, true
}

// stepIn is 1 or 2 when a group moves on ones or twos through most of the
// frames, else 0.
func stepIn(moved []bool, a, b int, rate float64) int {
	for _, k := range motion.SteppedStretches(moved, rate) {
		if 2*(min(k.Last, b)-max(k.First, a)) > b-a {
			return k.Step
		}
	}
	return 0
}

// movingChannel is the first channel of the part that changes, or NoChannel.
func (c *Context) movingChannel(p scene.PartID) scene.ChannelID {
	for _, t := range c.Study.LocalTracks(p) {
		if d := c.Study.Drivers(t, 0, c.Study.N-1); len(d) > 0 {
			return d[0].Channel
		}
	}
	return c.anyChannel(p)
}
