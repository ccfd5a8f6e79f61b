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

//go:embed off_balance.md
var offBalanceDoc string

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

// OffBalance finds holds that would fall.
var OffBalance = &Check{
	ID:       "off-balance",
	Severity: note.Information,
	Group:    Contact,
	Title:    "a hold that would fall",
	Doc:      offBalanceDoc,
	Settings: []Setting{
		{Name: "margin", Unit: "figure", Default: 0.05, Min: 0, Max: 1, Doc: "how far outside the feet the body's centre stands"},
		{Name: "min_time", Unit: "s", Default: 0.3, Min: 0, Max: 100, Doc: "shortest hold"},
	},
	SilentWhenBlocked: true,
	Run:               runOffBalance,
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

func runOffBalance(c *Context) []note.Note {
	var notes []note.Note
	for _, fig := range c.living() {
		feet := fig.Feet()
		root := fig.RootTrack()
		if len(feet) == 0 || root == nil || c.Ctx.Err() != nil || c.handHolds(fig) {
			continue
		}
		for _, r := range root.Rests() {
			if float64(r.Last-r.First)/c.Study.Rate <= c.Setting("min_time") || !c.Study.Judged(r.First, r.Last) {
				continue
			}
			if n, ok := c.balance(fig, feet, r); ok {
				notes = append(notes, n)
			}
		}
	}
	return notes
}

// handHolds reports whether a hand holds on to something, or the figure is
// carried: then the feet tell nothing of its balance.
func (c *Context) handHolds(fig *motion.Figure) bool {
	if fig.Carrier >= 0 {
		return true
	}
	for i, p := range fig.Points {
		if p.Role == motion.HandPoint && len(fig.HandContacts(i)) > 0 {
			return true
		}
	}
	return false
}

// tripod is how many standing feet make a stand so wide that the mean of the
// joints is too rough a centre to say it falls: a dog lifts a paw at ease.
const tripod = 3

// balance compares the body's centre in the middle of a rest with the feet that
// stand in it.
func (c *Context) balance(fig *motion.Figure, feet []motion.Foot, r motion.Rest) (note.Note, bool) {
	mid := (r.First + r.Last) / 2
	if !c.upright(fig, mid) {
		return note.Note{}, false
	}
	up := fig.Up()
	var ground []r3.Vec
	standing := 0
	for _, f := range feet {
		if !standsIn(f.Contacts, r) {
			if !c.lifted(fig, f, mid) {
				return note.Note{}, false // it may well carry weight as it shuffles
			}
			continue
		}
		standing++
		for _, i := range f.Points {
			t := fig.CarriedTrack(i)
			p := r3.Scale(1/t.Unit, t.WorldPoint(mid))
			ground = append(ground, r3.Sub(p, r3.Scale(r3.Dot(p, up), up)))
		}
	}
	if standing == 0 || standing >= tripod || len(ground) < 2 {
		return note.Note{}, false
	}
	p := fig.Centre(mid, mid+1)[0]
	p = r3.Sub(p, r3.Scale(r3.Dot(p, up), up))
	out := outsideHull(ground, p, up)
	if out <= c.Setting("margin") {
		return note.Note{}, false
	}
	n := c.draft(fig.Root, c.rootChannel(fig, r.First, r.Last), r.First, r.Last)
	n.Message = fmt.Sprintf("%s: the hold is off balance, the body's centre is %s of figure size outside the feet; shift the hips over them", c.span(r.First, r.Last), percent(out))
	n.Weight = c.weigh(fig, fig.Root, out)
	n.Measures = []note.Measure{{Name: "outside", Value: out, Unit: "figure"}}
	n.Causes = append(n.Causes, fig.Root)
	return n, true
}

// upright reports whether the root stands over the feet about as high as usual:
// who sits, kneels or lies does not balance on the feet.
func (c *Context) upright(fig *motion.Figure, frame int) bool {
	root, up := fig.RootTrack(), fig.Up()
	low := func(i int) float64 {
		h := math.Inf(1)
		for _, f := range fig.Feet() {
			for _, p := range f.Points {
				h = min(h, r3.Dot(fig.CarriedTrack(p).WorldPoint(i), up))
			}
		}
		return h
	}
	var heights []float64
	for k := range 20 {
		i := k * (c.Study.N - 1) / 19
		heights = append(heights, r3.Dot(root.WorldPoint(i), up)-low(i))
	}
	return r3.Dot(root.WorldPoint(frame), up)-low(frame) > 0.6*motion.Percentile(heights, 0.75)
}

// lifted reports whether a foot is clearly off the ground at a frame: 5 % of
// figure size over its usual lowest height.
func (c *Context) lifted(fig *motion.Figure, f motion.Foot, frame int) bool {
	for _, i := range f.Points {
		h := fig.CarriedTrack(i).Heights(fig.Up())
		if h[frame] < motion.Percentile(slices.Clone(h), 0.05)+0.05 {
			return false
		}
	}
	return true
}

// standsIn reports whether a foot stands for some part of a rest. One that is
// lifted for a step in between still counts: the body shifts over the other and
// back.
func standsIn(list []motion.Contact, r motion.Rest) bool {
	for _, k := range list {
		if k.First <= r.Last && k.Last >= r.First {
			return true
		}
	}
	return false
}

// outsideHull is the distance of p from the convex hull of points, all in one
// plane with normal up; 0 inside. A point is inside when no line through two of
// the points has all of them on one side and p on the other.
func outsideHull(points []r3.Vec, p, up r3.Vec) float64 {
	inside := len(points) > 2
	near := math.Inf(1)
	for i, a := range points {
		for j, b := range points {
			if i == j {
				near = min(near, r3.Norm(r3.Sub(p, a)))
				continue
			}
			d := r3.Sub(b, a)
			n := r3.Norm2(d)
			if n == 0 {
				continue
			}
			t := min(max(r3.Dot(r3.Sub(p, a), d)/n, 0), 1)
			near = min(near, r3.Norm(r3.Sub(p, r3.Add(a, r3.Scale(t, d)))))
			side := r3.Cross(up, d)
			edge := true
			for _, q := range points {
				edge = edge && r3.Dot(r3.Sub(q, a), side) >= -1e-12
			}
			if edge && r3.Dot(r3.Sub(p, a), side) < 0 {
				inside = false
			}
		}
	}
	if inside {
		return 0
	}
	return near
}
