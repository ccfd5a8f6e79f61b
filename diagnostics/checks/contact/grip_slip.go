package contact

import (
	"cmp"
	_ "embed"
	"fmt"
	"slices"

	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/body"
	"curvelint/diagnostics/motion/track"
	"curvelint/diagnostics/note"
)

//go:embed grip_slip.md
var gripSlipDoc string

// The settings of grip-slip.
var (
	gripSlipSlip = kit.Number{Name: "slip", Unit: "figure", Default: 0.02, Min: 0, Max: 1, Doc: "largest change of place on what is held"}
)

// GripSlip finds hands that slide on what they hold.
var GripSlip = &kit.Check{
	ID:                "grip-slip",
	Severity:          note.Warning,
	Group:             kit.Contact,
	Title:             "a hand that slides on what it holds",
	Doc:               gripSlipDoc,
	Settings:          []kit.Setting{&gripSlipSlip},
	Limits:            []*kit.Limit{&smallestFigure, &largestFigure},
	SilentWhenBlocked: true,
	Run:               runGripSlip,
}

// slipped is a grip in which the hand slides.
type slipped struct {
	motion.HandGrip
	hand    *track.Track
	ownHand bool // the other is the figure's own other hand
}

func runGripSlip(c *kit.Context) []note.Note {
	var notes []note.Note
	for _, fig := range c.Living() {
		if c.Ctx.Err() != nil {
			return nil
		}
		hands := map[*track.Track]bool{}
		for i, p := range fig.Points {
			if p.Role == body.HandPoint {
				hands[fig.PointTrack(i)] = true
			}
		}
		var all []slipped
		for i, p := range fig.Points {
			if p.Role != body.HandPoint {
				continue
			}
			for _, g := range fig.Grips(i) {
				if g.Slip > gripSlipSlip.In(c) && c.Study.Judged(g.First, g.Last) {
					all = append(all, slipped{g, fig.PointTrack(i), hands[g.Other]})
				}
			}
		}
		// Of two hands on one thing that come nearer to each other, the one that
		// slides on the thing is at fault. Two hands that hold each other are one
		// note, and so is a hand near two points of one thing.
		slices.SortStableFunc(all, func(a, b slipped) int {
			if a.ownHand != b.ownHand {
				if a.ownHand {
					return 1
				}
				return -1
			}
			return cmp.Compare(a.Slip, b.Slip)
		})
		for i, g := range all {
			alreadyNoted := slices.ContainsFunc(all[:i], func(o slipped) bool {
				same := o.hand == g.hand || g.ownHand && o.hand == g.Other
				return same && min(o.Last, g.Last) >= max(o.First, g.First)
			})
			if !alreadyNoted {
				notes = append(notes, gripNote(c, fig, g.hand, g.HandGrip))
			}
		}
	}
	return notes
}

func gripNote(c *kit.Context, fig *motion.Figure, hand *track.Track, g motion.HandGrip) note.Note {
	ch := kit.AnyChannel(c, hand.Part)
	if d := c.Study.Drivers(hand, g.SlipFirst, g.SlipLast); len(d) > 0 {
		ch = d[0].Channel
	}
	p := hand.Part
	if ch >= 0 {
		p = c.Study.Scene.Channels[ch].Part
	}
	n := c.Draft(p, ch, g.SlipFirst, g.SlipLast)
	n.Message = fmt.Sprintf("%s: %s slides by %s on %s while it holds it; keep the two together", c.Span(g.SlipFirst, g.SlipLast), hand.Name, lengthOf(c, fig, g.Slip), g.Other.Name)
	n.Weight = c.Weigh(fig, hand.Part, 2*g.Slip)
	n.Measures = []note.Measure{
		{Name: "slip", Value: g.Slip, Unit: "figure"},
		{Name: "travel", Value: g.Common, Unit: "figure"},
	}
	c.RelatePart(&n, g.Other.Part, g.SlipFirst, "what it holds")
	n.Causes = append(n.Causes, p, hand.Part)
	return n
}
