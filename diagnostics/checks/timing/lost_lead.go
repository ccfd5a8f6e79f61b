package timing

import (
	_ "embed"
	"fmt"
	"math"

	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/body"
	"curvelint/diagnostics/motion/track"
	"curvelint/diagnostics/note"
	"curvelint/diagnostics/words"
	"curvelint/parse/scene"
)

//go:embed lost_lead.md
var lostLeadDoc string

// The settings of lost-lead.
var (
	lostLeadMargin    = kit.Seconds{Name: "margin", Default: 0.08, Min: 0, Max: 2, Doc: "how much too early the body starts"}
	lostLeadMinTravel = kit.Number{Name: "min_travel", Unit: "figure", Default: 0.1, Min: 0, Max: 100, Doc: "least travel of the root in the beat"}
)

// The limits of lost-lead.
var (
	lostLeadReach = kit.Limit{Name: "reach", Value: 0.8, Unit: "s",
		Doc:    "a leader that is over so long before the body starts leads nothing",
		Source: "common practice, no source"}
	lostLeadSeenLead = kit.Limit{Name: "seen_lead", Value: 1, Unit: "ratio",
		Doc:    "in multiples of 3 degrees, a tenth of a weight, 5 % of figure size: a leader that does less, the last of a settle or a drift, leads nothing",
		Source: "the floors of motion in the study"}
	lostLeadLeastLead = kit.Limit{Name: "least_lead", Value: 2, Unit: "ratio",
		Doc:    "in the same measure, a leader that starts late by less has not started: 0.1 figure sizes, 6 degrees",
		Source: "common practice, no source"}
	lostLeadFewestMoves = kit.Limit{Name: "fewest_moves", Value: 2, Unit: "count",
		Doc:    "fewer moves show no habit",
		Source: "common practice, no source"}
	lostLeadHabit = kit.Limit{Name: "habit", Value: 0.5, Unit: "ratio",
		Doc:    "a figure whose body leads in more of its moves has that order for its own",
		Source: "common practice, no source"}
)

// LostLead finds beats in which the body starts before what should lead it.
var LostLead = &kit.Check{
	ID:                "lost-lead",
	Severity:          note.Information,
	Group:             kit.Timing,
	Title:             "the order of a beat broken",
	Doc:               lostLeadDoc,
	Settings:          []kit.Setting{&lostLeadMargin, &lostLeadMinTravel},
	Limits:            []*kit.Limit{&lostLeadReach, &lostLeadSeenLead, &lostLeadLeastLead, &lostLeadFewestMoves, &lostLeadHabit, &kit.Rounding, &kit.DriverSpan},
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

// reversal is a move of the body that starts before its leader.
type reversal struct {
	body  *track.Track // the path of the core
	move  track.Stroke
	lead  motion.GroupStroke
	early int // frames
}

func runLostLead(c *kit.Context) []note.Note {
	var notes []note.Note
	for _, fig := range c.Living() {
		if c.Ctx.Err() != nil {
			return nil
		}
		notes = append(notes, lostLeads(c, fig)...)
	}
	return notes
}

// lostLeads looks at every move that carries the whole body and at what its
// leaders do by then.
func lostLeads(c *kit.Context, fig *motion.Figure) []note.Note {
	core := fig.RootTrack()
	leaders := leadersOf(c.Study, fig)
	if core == nil || len(leaders) == 0 || fig.Locomotion() {
		return nil
	}
	var reversals []reversal
	judged := 0
	for _, k := range core.Strokes() {
		if !k.FromRest || k.First == 0 || k.Length < lostLeadMinTravel.In(c) || !c.Study.Judged(k.First, k.Last) {
			continue
		}
		r, led, ok := judgeLead(c, leaders, core, k)
		if led || ok {
			judged++
		}
		if ok {
			reversals = append(reversals, r)
		}
	}
	// A figure whose body leads in most moves has that order for its own.
	if judged >= int(lostLeadFewestMoves.Value) && float64(len(reversals)) > lostLeadHabit.Value*float64(judged) {
		return nil
	}
	var notes []note.Note
	for _, r := range reversals {
		notes = append(notes, lostLeadNote(c, fig, r))
	}
	return notes
}

// leadersOf are the figure's groups that come before the last of the order, the
// body: the eyes, the head and the chest unless configured otherwise.
func leadersOf(s *motion.Study, fig *motion.Figure) []*motion.Group {
	order := leadOrder(s)
	var out []*motion.Group
	for _, name := range order[:max(len(order)-1, 0)] {
		if g := fig.Group(name); g != nil && g != fig.GroupOf(fig.Core()) && g.Label.Body != body.Chest {
			out = append(out, g)
		}
	}
	return out
}

// judgeLead looks at the leaders' strokes around the start of a move of the
// body: led is true when one of them is on its way by then, ok when they all
// start too late. A leader that does nothing, or only when the move is over,
// says nothing.
func judgeLead(c *kit.Context, leaders []*motion.Group, core *track.Track, k track.Stroke) (r reversal, led, ok bool) {
	margin := lostLeadMargin.In(c) * c.Study.Rate
	start := core.EventTime(track.Event{Kind: track.Start, Frame: k.First})
	reach := lostLeadReach.Frames(c.Study.Rate)
	best := 0.0
	for _, g := range leaders {
		for _, l := range g.Strokes() {
			if l.Stroke.Last < k.First-reach || l.Stroke.First >= k.Last {
				continue
			}
			at := float64(l.Stroke.First)
			if l.Stroke.FromRest {
				at = l.Track.EventTime(track.Event{Kind: track.Start, Frame: l.Stroke.First})
			}
			p := l.Track.Prominence(l.Stroke)
			if at-start <= margin+kit.Rounding.Value && p >= lostLeadSeenLead.Value {
				return r, true, false
			}
			// The leader's main stroke speaks for it, not a drift.
			if at-start > margin+kit.Rounding.Value && p > best && p >= lostLeadLeastLead.Value {
				best = p
				r = reversal{core, k, l, int(math.Round(at - start))}
			}
		}
	}
	return r, false, best > 0
}

// lostLeadNote sits on what moves the body, and shows where the leader starts.
func lostLeadNote(c *kit.Context, fig *motion.Figure, r reversal) note.Note {
	at, lead := r.move.First, r.lead.Stroke.First
	p := r.body.Part
	ch := scene.NoChannel
	if d := c.Study.Drivers(r.body, r.move.First, r.move.Last); len(d) > 0 {
		ch = d[0].Channel
		p = c.Study.Scene.Channels[ch].Part
	}
	n := c.Draft(p, ch, at, max(lead, at+1))
	n.Related = nil
	n.Message = fmt.Sprintf("%s: %s %s before %s; let the %s lead",
		c.Span(at, max(lead, at+1)), c.Says(p, "starts"), words.Count(r.early, "frame"), r.lead.Group.Name, r.lead.Group.Name)
	n.Weight = c.Weigh(fig, r.lead.Track.Part, r.move.Length)
	n.Measures = []note.Measure{{Name: "early", Value: float64(r.early), Unit: "frames"}}
	if ch := kit.Driver(c, r.lead.Track, lead); ch >= 0 {
		c.Relate(&n, ch, lead, "%s %s here", r.lead.Group.Name, words.Does(r.lead.Group.Name, "starts"))
	}
	n.Causes = append(n.Causes, p, r.body.Part)
	return n
}
