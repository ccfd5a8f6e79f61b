package checks

import (
	_ "embed"
	"fmt"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
)

//go:embed lost_lead.md
var lostLeadDoc string

// LostLead finds beats in which the body starts before what should lead it.
var LostLead = &Check{
	ID:       "lost-lead",
	Severity: note.Information,
	Group:    Timing,
	Title:    "the order of a beat broken",
	Doc:      lostLeadDoc,
	Settings: []Setting{
		{Name: "margin", Unit: "s", Default: 0.1, Min: 0, Max: 2, Doc: "how much too early a follower starts"},
		{Name: "min_travel", Unit: "figure", Default: 0.1, Min: 0, Max: 100, Doc: "least travel of the root in the beat"},
	},
	SilentWhenBlocked: true,
	Run:               runLostLead,
}

// leadOrder is the order in which groups usually start.
func leadOrder(s *motion.Study) []string {
	if len(s.Options.Lead) > 0 {
		return s.Options.Lead
	}
	return []string{"eyes", "head", "chest", "hips"}
}

// reversal is a beat in which a follower starts before its leader.
type reversal struct {
	lead, follow motion.GroupStroke
	early        int // frames
}

// groupStart is how a group begins a beat: its first stroke, however small, and
// its largest.
type groupStart struct{ first, main motion.GroupStroke }

func runLostLead(c *Context) []note.Note {
	var notes []note.Note
	for _, fig := range c.living() {
		if c.Ctx.Err() != nil {
			return nil
		}
		notes = append(notes, c.lostLeads(fig)...)
	}
	return notes
}

func (c *Context) lostLeads(fig *motion.Figure) []note.Note {
	order := leadOrder(c.Study)
	var found []reversal
	judgedBeats := 0
	for _, b := range fig.Beats() {
		if !c.Study.Judged(b.First, b.Last) || c.rootTravel(fig, b) < c.Setting("min_travel") {
			continue
		}
		starts := groupStarts(b, order)
		if len(starts) < 2 {
			continue
		}
		judgedBeats++
		if r, ok := c.reversed(starts); ok {
			found = append(found, r)
		}
	}
	// A figure whose body leads in most beats has that order for its own.
	if len(found) == 0 || (judgedBeats >= 2 && 2*len(found) > judgedBeats) {
		return nil
	}
	var notes []note.Note
	for _, r := range found {
		notes = append(notes, c.lostLeadNote(fig, r))
	}
	return notes
}

// rootTravel is how far the root goes in a beat, in figure sizes.
func (c *Context) rootTravel(fig *motion.Figure, b motion.FigureBeat) float64 {
	for i, p := range fig.Points {
		if p.Role == motion.RootPoint {
			return fig.CarriedTrack(i).PathLength(b.First, b.Last)
		}
	}
	return 0
}

// groupStarts returns how the groups of the order begin a beat, in that order.
// Strokes that run from the first frame of the clip have no start.
func groupStarts(b motion.FigureBeat, order []string) []groupStart {
	var out []groupStart
	for _, name := range order {
		var g groupStart
		for _, k := range b.Strokes {
			if k.Group.Name != name {
				continue
			}
			if g.first.Track == nil || k.Stroke.First < g.first.Stroke.First {
				g.first = k
			}
			if g.main.Track == nil || k.Track.Prominence(k.Stroke) > g.main.Track.Prominence(g.main.Stroke) {
				g.main = k
			}
		}
		if g.first.Track != nil && g.first.Stroke.First > 0 {
			out = append(out, g)
		}
	}
	return out
}

// reversed finds the follower whose main stroke starts most too early: before
// the one that should lead it has begun to move at all.
func (c *Context) reversed(starts []groupStart) (reversal, bool) {
	var worst reversal
	margin := c.Setting("margin") * c.Study.Rate
	for i := 1; i < len(starts); i++ {
		lead, follow := starts[i-1].first, starts[i].main
		early := lead.Stroke.First - follow.Stroke.First
		if float64(early) > margin+1e-9 && early > worst.early {
			worst = reversal{lead, follow, early}
		}
	}
	return worst, worst.early > 0
}

func (c *Context) lostLeadNote(fig *motion.Figure, r reversal) note.Note {
	at := r.follow.Stroke.First
	p := r.follow.Track.Part
	n := c.draft(p, c.driver(r.follow.Track, at), at, r.lead.Stroke.First)
	n.Related = nil
	n.Message = fmt.Sprintf("%s: %s %s %s before %s; let the %s lead",
		c.span(at, r.lead.Stroke.First), r.follow.Group.Name, does(r.follow.Group.Name, "starts"), frames(r.early), r.lead.Group.Name, r.lead.Group.Name)
	n.Weight = c.weigh(fig, r.lead.Track.Part, likeFigures(r.follow.Track.Quality, r.follow.Stroke.Length))
	n.Measures = []note.Measure{{Name: "early", Value: float64(r.early), Unit: "frames"}}
	if ch := c.driver(r.lead.Track, r.lead.Stroke.First); ch >= 0 {
		c.relate(&n, ch, r.lead.Stroke.First, "%s %s here", r.lead.Group.Name, does(r.lead.Group.Name, "starts"))
	}
	n.Causes = append(n.Causes, p)
	return n
}

func frames(n int) string {
	if n == 1 {
		return "1 frame"
	}
	return fmt.Sprintf("%d frames", n)
}
