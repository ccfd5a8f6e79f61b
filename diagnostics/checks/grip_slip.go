package checks

import (
	"cmp"
	_ "embed"
	"fmt"
	"slices"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
)

//go:embed grip_slip.md
var gripSlipDoc string

//go:embed sunk_contact.md
var sunkContactDoc string

// GripSlip finds hands that slide on what they hold.
var GripSlip = &Check{
	ID:       "grip-slip",
	Severity: note.Warning,
	Group:    Contact,
	Title:    "a hand that slides on what it holds",
	Doc:      gripSlipDoc,
	Settings: []Setting{
		{Name: "slip", Unit: "figure", Default: 0.02, Min: 0, Max: 1, Doc: "largest change of place on what is held"},
	},
	SilentWhenBlocked: true,
	Run:               runGripSlip,
}

// SunkContact finds points under the floor.
var SunkContact = &Check{
	ID:       "sunk-contact",
	Severity: note.Warning,
	Group:    Contact,
	Title:    "a point under the floor",
	Doc:      sunkContactDoc,
	Settings: []Setting{
		{Name: "depth", Unit: "figure", Default: 0.01, Min: 0, Max: 1, Doc: "how far under the floor"},
		{Name: "min_time", Unit: "s", Default: 2.0 / 24, Min: 0, Max: 10, Doc: "shortest time"},
	},
	Run: runSunkContact,
}

// slipped is a grip in which the hand slides.
type slipped struct {
	motion.HandGrip
	hand *motion.Track
	twin bool // the other is the figure's own other hand
}

func runGripSlip(c *Context) []note.Note {
	var notes []note.Note
	for _, fig := range c.living() {
		if c.Ctx.Err() != nil {
			return nil
		}
		hands := map[*motion.Track]bool{}
		for i, p := range fig.Points {
			if p.Role == motion.HandPoint {
				hands[fig.PointTrack(i)] = true
			}
		}
		var all []slipped
		for i, p := range fig.Points {
			if p.Role != motion.HandPoint {
				continue
			}
			for _, g := range fig.Grips(i) {
				if g.Slip > c.Setting("slip") && c.Study.Judged(g.First, g.Last) {
					all = append(all, slipped{g, fig.PointTrack(i), hands[g.Other]})
				}
			}
		}
		// Of two hands on one thing that come nearer to each other, the one that
		// slides on the thing is at fault. Two hands that hold each other are one
		// finding, and so is a hand near two points of one thing.
		slices.SortStableFunc(all, func(a, b slipped) int {
			if a.twin != b.twin {
				if a.twin {
					return 1
				}
				return -1
			}
			return cmp.Compare(a.Slip, b.Slip)
		})
		for i, g := range all {
			told := slices.ContainsFunc(all[:i], func(o slipped) bool {
				same := o.hand == g.hand || g.twin && o.hand == g.Other
				return same && min(o.Last, g.Last) >= max(o.First, g.First)
			})
			if !told {
				notes = append(notes, c.gripNote(fig, g.hand, g.HandGrip))
			}
		}
	}
	return notes
}

func (c *Context) gripNote(fig *motion.Figure, hand *motion.Track, g motion.HandGrip) note.Note {
	ch := c.anyChannel(hand.Part)
	if d := c.Study.Drivers(hand, g.SlipFirst, g.SlipLast); len(d) > 0 {
		ch = d[0].Channel
	}
	p := hand.Part
	if ch >= 0 {
		p = c.Study.Scene.Channels[ch].Part
	}
	n := c.draft(p, ch, g.SlipFirst, g.SlipLast)
	n.Message = fmt.Sprintf("%s: %s slides by %s on %s while it holds it; keep the two together", c.span(g.SlipFirst, g.SlipLast), hand.Name, c.lengthOf(fig, g.Slip), g.Other.Name)
	n.Weight = c.weigh(fig, hand.Part, 2*g.Slip)
	n.Measures = []note.Measure{
		{Name: "slip", Value: g.Slip, Unit: "figure"},
		{Name: "travel", Value: g.Common, Unit: "figure"},
	}
	c.relatePart(&n, g.Other.Part, g.SlipFirst, "what it holds")
	n.Causes = append(n.Causes, p, hand.Part)
	return n
}

func runSunkContact(c *Context) []note.Note {
	s := c.Study
	var notes []note.Note
	for _, fig := range c.living() {
		if c.Ctx.Err() != nil {
			return nil
		}
		if !c.Study.Options.HasFloor && c.flies(fig) {
			continue // a bird that hovers stands on nothing
		}
		up := fig.Up()
		for _, foot := range fig.Feet() {
			for _, i := range foot.Points {
				t := fig.CarriedTrack(i)
				floor, ok := c.floorUnder(fig, i)
				if !ok {
					continue
				}
				a, b, deep := deepest(t.Heights(up), floor-c.Setting("depth"), s.Window(c.Setting("min_time")), s.Judged)
				if b < a {
					continue
				}
				p, ch := t.Part, scene.NoChannel
				if d := s.Drivers(t, max(0, a-s.Window(0.25)), b); len(d) > 0 {
					ch = c.limbDriver(fig, t.Part, d)
					p = s.Scene.Channels[ch].Part
				}
				n := c.draft(p, ch, a, b)
				if !s.Options.HasFloor {
					n.Severity = max(n.Severity, note.Hint)
				}
				sunk := deep + c.Setting("depth")
				n.Message = fmt.Sprintf("%s: %s is %s under the floor; lift it or raise the hips", c.span(a, b), t.Name, c.lengthOf(fig, sunk))
				n.Weight = c.weigh(fig, t.Part, sunk)
				n.Measures = []note.Measure{{Name: "depth", Value: sunk, Unit: "figure"}}
				n.Causes = append(n.Causes, p, t.Part)
				notes = append(notes, n)
				break // heel and toe of one foot are one note
			}
		}
	}
	return notes
}

// floorUnder is the height of the floor over the point's first position: as
// configured, else the usual height of the point's own contacts. There must be at
// least three to tell one that is too low, or a second of standing.
func (c *Context) floorUnder(fig *motion.Figure, i int) (float64, bool) {
	if c.Study.Options.HasFloor {
		return fig.FloorHeight(i), true
	}
	h := fig.CarriedTrack(i).Heights(fig.Up())
	var means, all []float64
	for _, k := range fig.PointContacts(i) {
		sum := 0.0
		for f := k.First; f <= k.Last; f++ {
			sum += h[f]
		}
		means = append(means, sum/float64(k.Last-k.First+1))
		all = append(all, h[k.First:k.Last+1]...)
	}
	switch {
	case len(means) >= 3:
		return motion.Percentile(means, 0.5), true
	case float64(len(all)) >= c.Study.Rate:
		return motion.Percentile(all, 0.5), true
	}
	return 0, false
}

// deepest finds the stretch of at least n frames below level that goes deepest;
// b < a when there is none. deep is how far below level it goes.
func deepest(h []float64, level float64, n int, judged func(a, b int) bool) (a, b int, deep float64) {
	a, b = 0, -1
	for i := 0; i < len(h); i++ {
		if h[i] >= level {
			continue
		}
		from, d := i, 0.0
		for i < len(h) && h[i] < level {
			d = max(d, level-h[i])
			i++
		}
		if i-from >= n && d > deep && judged(from, i-1) {
			a, b, deep = from, i-1, d
		}
	}
	return a, b, deep
}
