package contact

import (
	_ "embed"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
)

//go:embed free_fall.md
var freeFallDoc string

// gravity is standard gravity in m/s^2 (3rd CGPM, 1901).
const gravity = 9.80665

// The settings of free-fall.
var (
	freeFallResidual = kit.Number{Name: "residual", Unit: "figure", Default: 0.03, Min: 0, Max: 1, Doc: "how far the body's centre leaves a parabola"}
	freeFallHang     = kit.Number{Name: "hang", Unit: "ratio", Default: 0.1, Min: 0, Max: 1, Doc: "the same as a share of the height of the flight, if it is more than a third of residual"}
	freeFallLightest = kit.Number{Name: "lightest", Unit: "ratio", Default: 0.5, Min: 0, Max: 1, Doc: "least acceleration, in standard gravities"}
	freeFallHeaviest = kit.Number{Name: "heaviest", Unit: "ratio", Default: 1.5, Min: 1, Max: 10, Doc: "largest acceleration, in standard gravities"}
	freeFallShortest = kit.Seconds{Name: "shortest", Default: 0.25, Min: 0.1, Max: 10, Doc: "shortest flight"}
	freeFallLongest  = kit.Seconds{Name: "longest", Default: 1.2, Min: 0.2, Max: 10, Doc: "longest flight"}
)

// FreeFall finds flights that are not ballistic.
var FreeFall = &kit.Check{
	ID:                "free-fall",
	Severity:          note.Information,
	Group:             kit.Contact,
	Title:             "flight that is not ballistic",
	Doc:               freeFallDoc,
	Settings:          []kit.Setting{&freeFallResidual, &freeFallHang, &freeFallLightest, &freeFallHeaviest, &freeFallShortest, &freeFallLongest},
	SilentWhenBlocked: true,
	Run:               runFreeFall,
}

func runFreeFall(c *kit.Context) []note.Note {
	var notes []note.Note
	for _, fig := range c.Living() {
		feet := fig.Feet()
		if len(feet) == 0 || c.Ctx.Err() != nil || flies(c, fig) {
			continue
		}
		var all [][]motion.Contact
		for _, f := range feet {
			all = append(all, f.Contacts)
		}
		ground := motion.MergeContacts(all...)
		for i := 1; i < len(ground); i++ {
			a, b := ground[i-1].Last, ground[i].First
			if s := float64(b-a) / c.Study.Rate; s >= freeFallShortest.In(c) && s <= freeFallLongest.In(c) && c.Study.Judged(a, b) {
				if n, ok := flight(c, fig, a, b); ok {
					notes = append(notes, n)
				}
			}
		}
	}
	return notes
}

// push is how far, in figure sizes, a foot at least goes from the root and to it
// about a jump: what goes up and down with stiff legs hovers or is carried.
const push = 0.02

// pushes reports whether some leg stretches or bends between two frame indices or a
// little before and after.
func pushes(c *kit.Context, fig *motion.Figure, a, b int) bool {
	near := c.Study.Window(kit.Gather.Value)
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
func flight(c *kit.Context, fig *motion.Figure, a, b int) (note.Note, bool) {
	s := c.Study
	w := s.Window(1.0 / 24)
	from, to := a+w, b-w
	if to-from < 4 || !airborne(c, fig, from, to) || !pushes(c, fig, a, b) || !rises(fig, from, to) {
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
	case worst > freeFallResidual.In(c) || worst > max(freeFallResidual.In(c)/3, freeFallHang.In(c)*risen(x)):
		why = fmt.Sprintf("its height leaves a parabola by %s of figure size", kit.Percent(worst))
	case known && g > 0 && (g < freeFallLightest.In(c) || g > freeFallHeaviest.In(c)):
		why = fmt.Sprintf("it falls with %.1f times gravity", g)
	default:
		return note.Note{}, false
	}
	n := c.Draft(fig.Root, rootChannel(c, fig, a, b), a, b)
	n.Message = fmt.Sprintf("%s: the flight is not ballistic, %s; change the height or the time in the air", c.Span(a, b), why)
	n.Weight = c.Weigh(fig, fig.Root, 0.3)
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
func airborne(c *kit.Context, fig *motion.Figure, from, to int) bool {
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
