package checks

import (
	_ "embed"
	"fmt"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
)

//go:embed sliding_contact.md
var slidingContactDoc string

// SlidingContact finds planted feet that slip.
var SlidingContact = &Check{
	ID:       "sliding-contact",
	Severity: note.Warning,
	Group:    Contact,
	Title:    "a planted foot that slips",
	Doc:      slidingContactDoc,
	Settings: []Setting{
		{Name: "slip", Unit: "figure", Default: 0.02, Min: 0, Max: 1, Doc: "largest net way across the floor within one contact"},
	},
	Run: runSlidingContact,
}

func runSlidingContact(c *Context) []note.Note {
	var notes []note.Note
	for _, fig := range c.living() {
		for _, foot := range fig.Feet() {
			if c.Ctx.Err() != nil {
				return nil
			}
			notes = append(notes, c.slips(fig, foot)...)
		}
	}
	return notes
}

type slipFinding struct {
	finding
	slip  motion.Slip
	point int
}

// slips finds the slips of a foot. A contact of the foot slips when each of its
// points that stand in it slips: a foot that pivots on its ball, or rolls from
// heel to toe, moves one of them and is planted.
func (c *Context) slips(fig *motion.Figure, foot motion.Foot) []note.Note {
	s, up := c.Study, fig.Up()
	var all []slipFinding
	for _, whole := range foot.Contacts {
		var least *slipFinding
		for _, i := range foot.Points {
			t := fig.CarriedTrack(i)
			for _, k := range fig.PointContacts(i) {
				if k.First < whole.First || k.Last > whole.Last {
					continue
				}
				slip := t.Slip(k, up)
				if least == nil || slip.Net < least.slip.Net {
					least = &slipFinding{finding{track: t, first: slip.First, last: slip.Last, size: slip.Net}, slip, i}
				}
			}
		}
		if least == nil || least.slip.Net <= c.Setting("slip") || !s.Judged(least.first, least.last) {
			continue
		}
		least.first, least.last = slipFrames(least.track, least.slip)
		if lifted(least.track.Heights(up)[least.first : least.last+1]) {
			continue // a low, slow step
		}
		least.drivers = s.Drivers(least.track, least.first, least.last)
		all = append(all, *least)
	}
	var notes []note.Note
	for _, f := range oneCause(fig, all, func(f *slipFinding) *finding { return &f.finding }) {
		notes = append(notes, c.slipNote(fig, foot, f))
	}
	return notes
}

// liftedHeight is how far, in figure sizes, a foot that slips may rise.
const liftedHeight = 0.01

// lifted reports whether the heights leave the ground in between.
func lifted(h []float64) bool {
	lo, hi := h[0], h[0]
	for _, v := range h {
		lo, hi = min(lo, v), max(hi, v)
	}
	return hi-lo > liftedHeight
}

// slipFrames narrows a slip to the frames in which it happens: from the last
// frame with less than a tenth of it done to the first with more than nine.
func slipFrames(t *motion.Track, k motion.Slip) (first, last int) {
	way := r3.Sub(t.At(k.Last), t.At(k.First))
	whole := r3.Norm2(way)
	done := func(i int) float64 { return r3.Dot(r3.Sub(t.At(i), t.At(k.First)), way) / whole }
	first, last = k.First, k.Last
	for last > first && done(last-1) > 0.9 {
		last--
	}
	for i := last; i >= first; i-- {
		if done(i) < 0.1 {
			return i, last
		}
	}
	return first, last
}

func (c *Context) slipNote(fig *motion.Figure, foot motion.Foot, f slipFinding) note.Note {
	s := c.Study
	// Look for the driver within the limb; what moves the whole body is only
	// related.
	ch, p := f.driver(), s.Scene.Channels[f.driver()].Part
	for _, d := range f.drivers {
		if q := s.Scene.Channels[d.Channel].Part; d.Value > 0.1 && fig.GroupOf(q) != nil && fig.GroupOf(q) == fig.GroupOf(f.track.Part) {
			ch, p = d.Channel, q
			break
		}
	}
	n := c.draft(p, ch, f.first, f.last)
	n.Message = fmt.Sprintf("%s: %s slips by %s while it stands; pin it for the whole contact", c.span(f.first, f.last), f.track.Name, c.lengthOf(fig, f.slip.Net))
	n.Weight = c.weigh(fig, f.track.Part, 2*f.size)
	n.Measures = []note.Measure{{Name: "slip", Value: f.slip.Net, Unit: "figure"}}
	n.Causes = append(n.Causes, p, f.track.Part)
	for _, d := range f.drivers {
		if d.Value > 0.25 && d.Channel != ch {
			c.relate(&n, d.Channel, f.first, "also drives it: %s, %s", c.name(s.Scene.Channels[d.Channel].Part), share(d.Value))
		}
	}
	return n
}

// lengthOf writes a length given in figure sizes, in centimetres as well where
// the file knows its unit.
func (c *Context) lengthOf(fig *motion.Figure, v float64) string {
	if fig.Unit > 0 && fig.Size > 0 {
		return fmt.Sprintf("%s of figure size (%.1f cm)", percent(v), v*fig.Size*fig.Unit*100)
	}
	return percent(v) + " of figure size"
}
