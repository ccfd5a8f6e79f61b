package checks

import (
	_ "embed"
	"fmt"
	"math"
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
		{Name: "hang", Unit: "ratio", Default: 0.1, Min: 0, Max: 1, Doc: "the same as a share of the height of the flight, if it is more than a third of residual"},
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
		if len(feet) == 0 || c.Ctx.Err() != nil || c.flies(fig) {
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

// flies reports whether the figure has wings that it moves.
func (c *Context) flies(fig *motion.Figure) bool {
	for _, p := range fig.Parts {
		if fig.LabelOf(p).Body == motion.Wing && c.Study.RotationTrack(p) != nil {
			return true
		}
	}
	return false
}

// push is how far, in figure sizes, a foot at least goes from the root and to it
// about a jump: what goes up and down with stiff legs hovers or is carried.
const push = 0.02

// pushes reports whether some leg stretches or bends between two frame indices or a
// little before and after.
func (c *Context) pushes(fig *motion.Figure, a, b int) bool {
	near := c.Study.Window(gather)
	a, b = max(a-near, 0), min(b+near, c.Study.N-1)
	root := fig.RootTrack()
	if root == nil {
		return true
	}
	for _, f := range fig.Feet() {
		t := fig.CarriedTrack(f.Points[0])
		least, most := math.Inf(1), 0.0
		for i := a; i <= b; i++ {
			d := r3.Norm(r3.Sub(t.WorldPoint(i), root.WorldPoint(i))) / t.Unit
			least, most = min(least, d), max(most, d)
		}
		if most-least >= push {
			return true
		}
	}
	return false
}

// flight judges the frames between take-off a and landing b. The first and last
// 1/24 s belong to the push and the landing.
func (c *Context) flight(fig *motion.Figure, a, b int) (note.Note, bool) {
	s := c.Study
	w := s.Window(1.0 / 24)
	from, to := a+w, b-w
	if to-from < 4 || !c.airborne(fig, from, to) || !c.pushes(fig, a, b) || !rises(fig, from, to) {
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
	case worst > c.Setting("residual") || worst > max(c.Setting("residual")/3, c.Setting("hang")*risen(x)):
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

// leastRise is how much the core of a body goes up and down in a flight, in figure
// sizes; half of what gravity makes of the shortest one.
const leastRise = 0.015

// rises reports whether the core of the body goes up or down in a stretch. Feet
// that swing under a body that stays where it is, as of one who sits on a rail,
// are in no flight.
func rises(fig *motion.Figure, from, to int) bool {
	core := fig.RootTrack()
	if core == nil {
		return true
	}
	h := core.Heights(fig.Up())[from : to+1]
	return slices.Max(h)-slices.Min(h) >= leastRise
}

// risen is how far the highest of the heights is over the mean of the first and last.
func risen(x []float64) float64 {
	return slices.Max(x) - (x[0]+x[len(x)-1])/2
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
