package contact

import (
	_ "embed"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/body"
	"curvelint/diagnostics/motion/track"
	"curvelint/diagnostics/note"
	"curvelint/diagnostics/words"
	"curvelint/parse/scene"
)

//go:embed off_balance.md
var offBalanceDoc string

// The settings of off-balance.
var (
	offBalanceMargin  = kit.Number{Name: "margin", Unit: "figure", Default: 0.05, Min: 0, Max: 1, Doc: "how far outside the feet the body's centre stands"}
	offBalanceMinTime = kit.Seconds{Name: "min_time", Default: 0.3, Min: 0, Max: 100, Doc: "shortest hold"}
)

// The limits of off-balance.
var (
	offBalanceTripod = kit.Limit{Name: "tripod", Value: 3, Unit: "count",
		Doc:    "so many standing feet make a stand so wide that the centre of the joints is too rough to say it falls: a dog lifts a paw at ease",
		Source: "common practice, no source"}
	offBalanceHeldSpeed = kit.Limit{Name: "held_speed", Value: 0.08, Unit: "figure/s",
		Doc:    "the body's centre and a lifted foot that go faster are not held",
		Source: "common practice, no source"}
	offBalanceHeldSpan = kit.Limit{Name: "held_span", Value: 0.08333333333333333, Unit: "s",
		Doc:    "over this time before and after",
		Source: "common practice, no source"}
	offBalanceFootClear = kit.Limit{Name: "foot_clear", Value: 0.05, Unit: "figure",
		Doc:    "a foot that is less above its usual lowest may carry weight",
		Source: "common practice, no source"}
	offBalanceLowest = kit.Limit{Name: "lowest", Value: 0.05, Unit: "ratio",
		Doc:    "its usual lowest is this share of its heights",
		Source: "robust lowest value; common practice, no source"}
	offBalanceBentLeg = kit.Limit{Name: "bent_leg", Value: 0.7, Unit: "ratio",
		Doc:    "a hip less high over its ankle, as a share of the leg, sits or squats",
		Source: "common practice, no source"}
	offBalanceSunk = kit.Limit{Name: "sunk", Value: 0.7, Unit: "ratio",
		Doc:    "a centre less high over the feet, as a share of its usual height, sits, kneels or lies",
		Source: "common practice, no source"}
	offBalanceUsual = kit.Limit{Name: "usual", Value: 0.75, Unit: "ratio",
		Doc:    "its usual height is this share of the heights of samples frames",
		Source: "common practice, no source"}
	offBalanceRounding = kit.Limit{Name: "rounding", Value: 1e-12, Unit: "ratio",
		Doc:    "two feet are on a line when they are off it by less, in figure sizes squared",
		Source: "rounding of float64"}
	offBalanceSamples = kit.Limit{Name: "samples", Value: 20, Unit: "count",
		Doc:    "so many frames, evenly over the shot, tell the usual height",
		Source: "common practice, no source"}
)

// OffBalance finds holds that would fall.
var OffBalance = &kit.Check{
	ID:                "off-balance",
	Severity:          note.Information,
	Group:             kit.Contact,
	Title:             "a hold that would fall",
	Doc:               offBalanceDoc,
	Settings:          []kit.Setting{&offBalanceMargin, &offBalanceMinTime},
	Limits:            []*kit.Limit{&offBalanceTripod, &offBalanceHeldSpeed, &offBalanceHeldSpan, &offBalanceFootClear, &offBalanceLowest, &offBalanceBentLeg, &offBalanceSunk, &offBalanceUsual, &offBalanceSamples, &offBalanceRounding},
	SilentWhenBlocked: true,
	Run:               runOffBalance,
}

func runOffBalance(c *kit.Context) []note.Note {
	var notes []note.Note
	for _, fig := range c.Living() {
		if len(fig.Feet()) == 0 || c.Ctx.Err() != nil || handHolds(c, fig) {
			continue
		}
		notes = append(notes, unbalanced(c, fig)...)
	}
	return notes
}

// handHolds reports whether a hand holds on to something, or the figure is
// carried: then the feet tell nothing of its balance.
func handHolds(c *kit.Context, fig *motion.Figure) bool {
	if fig.Carrier >= 0 {
		return true
	}
	for i, p := range fig.Points {
		if p.Role == body.HandPoint && len(fig.HandContacts(i)) > 0 {
			return true
		}
	}
	return false
}

// unbalanced finds the stretches of holds in which the body's centre stays
// outside the feet that stand.
func unbalanced(c *kit.Context, fig *motion.Figure) []note.Note {
	s := c.Study
	st := standOf(c, fig)
	var notes []note.Note
	least := offBalanceMinTime.Frames(c)
	for i := 0; i < s.N; i++ {
		first, most := i, 0.0
		for i < s.N {
			out := st.outside(i)
			if out <= offBalanceMargin.In(c) {
				break
			}
			most = max(most, out)
			i++
		}
		if last := i - 1; last-first > least && s.Judged(first, last) {
			notes = append(notes, balanceNote(c, fig, first, last, most))
		}
	}
	return notes
}

func balanceNote(c *kit.Context, fig *motion.Figure, first, last int, out float64) note.Note {
	n := c.Draft(fig.Root, rootChannel(c, fig, first, last), first, last)
	n.Message = fmt.Sprintf("%s: the hold is off balance, the body's centre is %s outside the feet; shift the hips over them", c.Span(first, last), words.Length(out))
	n.Weight = c.Weigh(fig, fig.Root, out)
	n.Measures = []note.Measure{{Name: "outside", Value: out, Unit: "figure"}}
	n.Causes = append(n.Causes, fig.Root)
	return n
}

// stand is what a figure stands on, with what is needed at every frame found once.
type stand struct {
	fig   *motion.Figure
	up    r3.Vec
	feet  []motion.Foot
	limbs []body.TwoBone
	// clear is the height, by point, above which a foot is off the ground: 5 % of
	// figure size over its usual lowest.
	clear map[int]float64
	// centre is the body's centre at every frame and tall its usual height over
	// the feet.
	centre []r3.Vec
	tall   float64
	// In a hold nothing goes farther than step from window frames before to
	// window frames after.
	window int
	step   float64
}

// standOf finds what a figure stands on.
func standOf(c *kit.Context, fig *motion.Figure) *stand {
	st := &stand{fig: fig, up: fig.Up(), feet: fig.Feet(), limbs: fig.Limbs(), clear: map[int]float64{}, centre: fig.Centre(0, c.Study.N)}
	for _, f := range st.feet {
		for _, i := range f.Points {
			st.clear[i] = track.Percentile(fig.CarriedTrack(i).Heights(st.up), offBalanceLowest.Value) + offBalanceFootClear.Value
		}
	}
	st.window = offBalanceHeldSpan.Frames(c.Study.Rate)
	st.step = offBalanceHeldSpeed.Value * float64(2*st.window) / c.Study.Rate
	var heights []float64
	samples := int(offBalanceSamples.Value)
	for k := range samples {
		heights = append(heights, st.height(k*(c.Study.N-1)/(samples-1)))
	}
	st.tall = track.Percentile(heights, offBalanceUsual.Value)
	return st
}

// place is where a point is at a frame, in figure sizes.
func (st *stand) place(i, frame int) r3.Vec {
	t := st.fig.CarriedTrack(i)
	return r3.Scale(1/t.Unit, t.WorldPoint(frame))
}

// height is how high the body's centre is over the lowest foot.
func (st *stand) height(frame int) float64 {
	low := math.Inf(1)
	for _, f := range st.feet {
		for _, i := range f.Points {
			low = min(low, r3.Dot(st.place(i, frame), st.up))
		}
	}
	return r3.Dot(st.centre[frame], st.up) - low
}

// lifted reports whether a foot is clearly off the ground at a frame.
func (st *stand) lifted(f motion.Foot, frame int) bool {
	for _, i := range f.Points {
		t := st.fig.CarriedTrack(i)
		if r3.Dot(t.At(frame), st.up) < st.clear[i] {
			return false
		}
	}
	return true
}

// bent reports whether a leg with a knee is bent so far that it does not carry the
// body standing: who sits may rest the feet anywhere, or let them hang.
func (st *stand) bent(f motion.Foot, frame int) bool {
	g := st.fig.GroupOf(st.fig.Points[f.Points[0]].Part)
	i := slices.IndexFunc(st.limbs, func(l body.TwoBone) bool { return l.Label.Body == body.Leg && st.fig.GroupOf(l.Upper) == g })
	if i < 0 {
		return false
	}
	s, l := st.fig.Study(), st.limbs[i]
	at := func(p scene.PartID) r3.Vec { return s.WorldPosition(p, s.Frame(frame)) }
	hip, knee, ankle := at(l.Upper), at(l.Lower), at(l.End)
	long := r3.Norm(r3.Sub(knee, hip)) + r3.Norm(r3.Sub(ankle, knee))
	return r3.Dot(r3.Sub(hip, ankle), st.up) < offBalanceBentLeg.Value*long
}

// held reports whether a path hardly moves about a frame; at is where it is.
func (st *stand) held(frame int, at func(frame int) r3.Vec) bool {
	a, b := max(frame-st.window, 0), min(frame+st.window, len(st.centre)-1)
	return r3.Norm(r3.Sub(at(b), at(a))) <= st.step
}

// outside is how far the body's centre stands outside the feet that carry it at a
// frame, in figure sizes; 0 as well where that cannot be told, and when it is much
// lower than usual: who sits, kneels or lies does not balance on the feet.
func (st *stand) outside(frame int) float64 {
	if !st.held(frame, func(i int) r3.Vec { return st.centre[i] }) {
		return 0
	}
	flat := func(p r3.Vec) r3.Vec { return r3.Sub(p, r3.Scale(r3.Dot(p, st.up), st.up)) }
	var ground []r3.Vec
	standing := 0
	for _, f := range st.feet {
		if !track.ContactAt(f.Contacts, frame) {
			p := f.Points[len(f.Points)-1]
			if !st.lifted(f, frame) || !st.held(frame, func(i int) r3.Vec { return st.place(p, i) }) {
				return 0 // it may well carry weight as it shuffles, or takes a step
			}
			continue
		}
		if st.bent(f, frame) {
			return 0 // it sits, squats or kneels
		}
		standing++
		for _, i := range f.Points {
			ground = append(ground, flat(st.place(i, frame)))
		}
	}
	if standing == 0 || standing >= int(offBalanceTripod.Value) || len(ground) < 2 || st.height(frame) < offBalanceSunk.Value*st.tall {
		return 0
	}
	return outsideHull(ground, flat(st.centre[frame]), st.up)
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
				edge = edge && r3.Dot(r3.Sub(q, a), side) >= -offBalanceRounding.Value
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
