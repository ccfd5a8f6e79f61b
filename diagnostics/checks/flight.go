package checks

import (
	_ "embed"
	"fmt"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
)

//go:embed free_fall.md
var freeFallDoc string

// gravity is standard gravity in m/s^2 (3rd CGPM, 1901).
const gravity = 9.80665

// FreeFall finds flights that are not ballistic.
var FreeFall = &Check{
	ID:       "free-fall",
	Severity: note.Information,
	Group:    Contact,
	Title:    "flight that is not ballistic",
	Doc:      freeFallDoc,
	Settings: []Setting{
		{Name: "residual", Unit: "figure", Default: 0.03, Min: 0, Max: 1, Doc: "how far the body's centre leaves a parabola"},
		{Name: "lightest", Unit: "ratio", Default: 0.5, Min: 0, Max: 1, Doc: "least acceleration, in standard gravities"},
		{Name: "heaviest", Unit: "ratio", Default: 1.5, Min: 1, Max: 10, Doc: "largest acceleration, in standard gravities"},
		{Name: "shortest", Unit: "s", Default: 0.25, Min: 0.1, Max: 10, Doc: "shortest flight"},
		{Name: "longest", Unit: "s", Default: 1.2, Min: 0.2, Max: 10, Doc: "longest flight"},
	},
	SilentWhenBlocked: true,
	Run:               runFreeFall,
}

func runFreeFall(c *Context) []note.Note {
	var notes []note.Note
	for _, fig := range c.living() {
		feet := fig.Feet()
		if len(feet) == 0 || c.Ctx.Err() != nil {
			continue
		}
		var all [][]motion.Contact
		for _, f := range feet {
			all = append(all, f.Contacts)
		}
		ground := motion.MergeContacts(all...)
		for i := 1; i < len(ground); i++ {
			a, b := ground[i-1].Last, ground[i].First
			if s := float64(b-a) / c.Study.Rate; s >= c.Setting("shortest") && s <= c.Setting("longest") && c.Study.Judged(a, b) {
				if n, ok := c.flight(fig, a, b); ok {
					notes = append(notes, n)
				}
			}
		}
	}
	return notes
}

// flight judges the frames between take-off a and landing b. The first and last
// 1/24 s belong to the push and the landing.
func (c *Context) flight(fig *motion.Figure, a, b int) (note.Note, bool) {
	s := c.Study
	w := s.Window(1.0 / 24)
	from, to := a+w, b-w
	if to-from < 4 || !c.airborne(fig, from, to) {
		return note.Note{}, false
	}
	up := fig.Up()
	var x []float64
	for _, p := range fig.Centre(from, to+1) {
		x = append(x, r3.Dot(p, up))
	}
	curve, worst := motion.Parabola(x)
	g := -2 * curve * s.Rate * s.Rate * fig.Size * fig.Unit / gravity
	known := fig.Unit > 0
	why := ""
	switch {
	case worst > c.Setting("residual"):
		why = fmt.Sprintf("its height leaves a parabola by %s of figure size", percent(worst))
	case known && g > 0 && (g < c.Setting("lightest") || g > c.Setting("heaviest")):
		why = fmt.Sprintf("it falls with %.1f times gravity", g)
	default:
		return note.Note{}, false
	}
	n := c.draft(fig.Root, c.rootChannel(fig, a, b), a, b)
	n.Message = fmt.Sprintf("%s: the flight is not ballistic, %s; change the height or the time in the air", c.span(a, b), why)
	n.Weight = c.weigh(fig, fig.Root, 0.3)
	n.Measures = []note.Measure{{Name: "residual", Value: worst, Unit: "figure"}}
	if known {
		n.Measures = append(n.Measures, note.Measure{Name: "gravity", Value: g, Unit: "ratio"})
	}
	n.Causes = append(n.Causes, fig.Root)
	return n, true
}

// airborne reports whether all feet are well off the ground in the middle of
// the stretch: feet that merely shuffle or roll are in no flight.
func (c *Context) airborne(fig *motion.Figure, from, to int) bool {
	up := fig.Up()
	for _, f := range fig.Feet() {
		for _, i := range f.Points {
			h := fig.CarriedTrack(i).Heights(up)
			floor := motion.Percentile(slices.Clone(h), 0.05)
			if h[(from+to)/2] < floor+0.03 {
				return false
			}
		}
	}
	return true
}
