package contact

import (
	_ "embed"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/fit"
	"curvelint/diagnostics/motion/track"
	"curvelint/diagnostics/note"
	"curvelint/diagnostics/words"
)

//go:embed free_fall.md
var freeFallDoc string

// gravity is standard gravity in m/s^2.
var gravity = kit.Limit{Name: "gravity", Value: 9.80665, Unit: "m/s2",
	Doc:    "standard gravity, by which lightest and heaviest count",
	Source: "3rd General Conference on Weights and Measures, 1901"}

// The settings of free-fall.
var (
	freeFallResidual = kit.Number{Name: "residual", Unit: "figure", Default: 0.03, Min: 0, Max: 1, Doc: "how far the body's centre leaves a parabola"}
	freeFallHang     = kit.Number{Name: "hang", Unit: "ratio", Default: 0.1, Min: 0, Max: 1, Doc: "the same as a share of the height of the flight, if it is more than a third of residual"}
	freeFallLightest = kit.Number{Name: "lightest", Unit: "ratio", Default: 0.5, Min: 0, Max: 1, Doc: "least acceleration, in standard gravities"}
	freeFallHeaviest = kit.Number{Name: "heaviest", Unit: "ratio", Default: 1.5, Min: 1, Max: 10, Doc: "largest acceleration, in standard gravities"}
	freeFallShortest = kit.Seconds{Name: "shortest", Default: 0.25, Min: 0.1, Max: 10, Doc: "shortest flight"}
	freeFallLongest  = kit.Seconds{Name: "longest", Default: 1.2, Min: 0.2, Max: 10, Doc: "longest flight"}
)

// The limits of free-fall.
var (
	freeFallPush = kit.Limit{Name: "push", Value: 0.02, Unit: "figure",
		Doc:    "about a flight a foot must go so far from the root and to it: what rises with stiff legs hovers or is carried",
		Source: "common practice, no source"}
	freeFallLeastRise = kit.Limit{Name: "least_rise", Value: 0.015, Unit: "figure",
		Doc:    "a core that goes up and down less is in no flight",
		Source: "half of what gravity makes of the shortest flight of a person: 9.80665 m/s^2 (3rd CGPM, 1901)"}
	freeFallOffGround = kit.Limit{Name: "off_ground", Value: 0.03, Unit: "figure",
		Doc:    "feet that are not so far above their lowest place in the middle of a flight shuffle or roll",
		Source: "the height of a contact in the study"}
	freeFallLowest = kit.Limit{Name: "lowest", Value: 0.05, Unit: "ratio",
		Doc:    "the ground under a foot is this share of its heights",
		Source: "robust lowest value; common practice, no source"}
	freeFallVisibleResidual = kit.Limit{Name: "visible_residual", Value: 0.3333333333333333, Unit: "ratio",
		Doc:    "below this share of residual no hang is seen however low the flight",
		Source: "common practice, no source"}
	freeFallFewestFrames = kit.Limit{Name: "fewest_frames", Value: 4, Unit: "count",
		Doc:    "a flight of fewer frames tells no parabola",
		Source: "three points fit any parabola exactly"}
)

// FreeFall finds flights that are not ballistic.
var FreeFall = &kit.Check{
	ID:                "free-fall",
	Severity:          note.Information,
	Group:             kit.Contact,
	Title:             "flight that is not ballistic",
	Doc:               freeFallDoc,
	Settings:          []kit.Setting{&freeFallResidual, &freeFallHang, &freeFallLightest, &freeFallHeaviest, &freeFallShortest, &freeFallLongest},
	Limits:            []*kit.Limit{&gravity, &freeFallPush, &freeFallLeastRise, &freeFallOffGround, &freeFallLowest, &freeFallVisibleResidual, &freeFallFewestFrames, &kit.Gather, &kit.FilmFrame},
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
		var all [][]track.Contact
		for _, f := range feet {
			all = append(all, f.Contacts)
		}
		ground := track.MergeContacts(all...)
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

// pushes reports whether some leg stretches or bends between two frame indices or a
// little before and after.
func pushes(c *kit.Context, fig *motion.Figure, a, b int) bool {
	near := kit.Gather.Frames(c.Study.Rate)
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
		if most-least >= freeFallPush.Value {
			return true
		}
	}
	return false
}

// flight judges the frames between take-off a and landing b. The first and last
// film frame belong to the push and the landing.
func flight(c *kit.Context, fig *motion.Figure, a, b int) (note.Note, bool) {
	s := c.Study
	w := kit.FilmFrame.Frames(s.Rate)
	from, to := a+w, b-w
	if to-from < int(freeFallFewestFrames.Value) || !airborne(c, fig, from, to) || !pushes(c, fig, a, b) || !rises(fig, from, to) {
		return note.Note{}, false
	}
	up := fig.Up()
	var x []float64
	for _, p := range fig.Centre(from, to+1) {
		x = append(x, r3.Dot(p, up))
	}
	curve, worst := fit.Parabola(x)
	g := -2 * curve * s.Rate * s.Rate * fig.Size * fig.Unit / gravity.Value
	known := fig.Unit > 0
	why := ""
	switch {
	case worst > freeFallResidual.In(c) || worst > max(freeFallResidual.In(c)*freeFallVisibleResidual.Value, freeFallHang.In(c)*risen(x)):
		why = fmt.Sprintf("its height leaves a parabola by %s", words.Length(worst))
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

// rises reports whether the core of the body goes up or down in a stretch. Feet
// that swing under a body that stays where it is, as of one who sits on a rail,
// are in no flight.
func rises(fig *motion.Figure, from, to int) bool {
	core := fig.RootTrack()
	if core == nil {
		return true
	}
	h := core.Heights(fig.Up())[from : to+1]
	return slices.Max(h)-slices.Min(h) >= freeFallLeastRise.Value
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
			floor := track.Percentile(slices.Clone(h), freeFallLowest.Value)
			if h[(from+to)/2] < floor+freeFallOffGround.Value {
				return false
			}
		}
	}
	return true
}
