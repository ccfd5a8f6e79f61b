package contact

import (
	_ "embed"
	"fmt"

	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
)

//go:embed sunk_contact.md
var sunkContactDoc string

// The settings of sunk-contact.
var (
	sunkContactDepth   = kit.Number{Name: "depth", Unit: "figure", Default: 0.01, Min: 0, Max: 1, Doc: "how far under the floor"}
	sunkContactMinTime = kit.Seconds{Name: "min_time", Default: 2.0 / 24, Min: 0, Max: 10, Doc: "shortest time"}
)

// The limits of sunk-contact.
var (
	sunkContactBefore = kit.Limit{Name: "before", Value: 0.25, Unit: "s",
		Doc:    "what lowers a foot is looked for from so long before it is under the floor",
		Source: "the shortest hold; common practice, no source"}
	sunkContactFewestContacts = kit.Limit{Name: "fewest_contacts", Value: 3, Unit: "count",
		Doc:    "without a configured floor so many contacts tell one that is too low",
		Source: "common practice, no source"}
	sunkContactStanding = kit.Limit{Name: "standing", Value: 1, Unit: "s",
		Doc:    "or standing for so long",
		Source: "common practice, no source"}
)

// SunkContact finds points under the floor.
var SunkContact = &kit.Check{
	ID:       "sunk-contact",
	Severity: note.Warning,
	Group:    kit.Contact,
	Title:    "a point under the floor",
	Doc:      sunkContactDoc,
	Settings: []kit.Setting{&sunkContactDepth, &sunkContactMinTime},
	Limits:   []*kit.Limit{&sunkContactBefore, &sunkContactFewestContacts, &sunkContactStanding, &limbShare, &smallestFigure, &largestFigure},
	Run:      runSunkContact,
}

func runSunkContact(c *kit.Context) []note.Note {
	s := c.Study
	var notes []note.Note
	for _, fig := range c.Living() {
		if c.Ctx.Err() != nil {
			return nil
		}
		if !c.Study.Options.HasFloor && flies(c, fig) {
			continue // a bird that hovers stands on nothing
		}
		up := fig.Up()
		for _, foot := range fig.Feet() {
			for _, i := range foot.Points {
				t := fig.CarriedTrack(i)
				floor, ok := floorUnder(c, fig, i)
				if !ok {
					continue
				}
				a, b, deep := deepest(t.Heights(up), floor-sunkContactDepth.In(c), sunkContactMinTime.Frames(c), s.Judged)
				if b < a {
					continue
				}
				p, ch := t.Part, scene.NoChannel
				if d := s.Drivers(t, max(0, a-sunkContactBefore.Frames(s.Rate)), b); len(d) > 0 {
					ch = limbDriver(c, fig, t.Part, d)
					p = s.Scene.Channels[ch].Part
				}
				n := c.Draft(p, ch, a, b)
				if !s.Options.HasFloor {
					n.Severity = max(n.Severity, note.Hint)
				}
				sunk := deep + sunkContactDepth.In(c)
				n.Message = fmt.Sprintf("%s: %s is %s under the floor; lift it or raise the hips", c.Span(a, b), t.Name, lengthOf(c, fig, sunk))
				n.Weight = c.Weigh(fig, t.Part, sunk)
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
func floorUnder(c *kit.Context, fig *motion.Figure, i int) (float64, bool) {
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
	case len(means) >= int(sunkContactFewestContacts.Value):
		return kit.Median(means), true
	case float64(len(all)) >= sunkContactStanding.Value*c.Study.Rate:
		return kit.Median(all), true
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
