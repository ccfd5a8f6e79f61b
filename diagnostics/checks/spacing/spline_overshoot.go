package spacing

import (
	_ "embed"
	"fmt"
	"math"

	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/solve"
	"curvelint/diagnostics/motion/track"
	"curvelint/diagnostics/note"
	"curvelint/diagnostics/words"
	"curvelint/parse/scene"
)

//go:embed spline_overshoot.md
var splineOvershootDoc string

// The settings of spline-overshoot.
var (
	splineOvershootShare   = kit.Number{Name: "share", Unit: "range", Default: 0.02, Min: 0, Max: 1, Doc: "how far outside its two keys the curve goes, as a share of the channel's range"}
	splineOvershootMinTurn = kit.Number{Name: "min_turn", Unit: "degrees", Default: 0.5, Min: 0, Max: 360, Doc: "a smaller turn outside is not seen"}
	splineOvershootMinWay  = kit.Number{Name: "min_way", Unit: "figure", Default: 0.002, Min: 0, Max: 1, Doc: "a smaller way outside is not seen"}
)

// SplineOvershoot finds curves that leave the interval of the two keys they run
// between.
var SplineOvershoot = &kit.Check{
	ID:       "spline-overshoot",
	Severity: note.Information,
	Group:    kit.Spacing,
	Title:    "the curve leaves its keys",
	Doc:      splineOvershootDoc,
	Settings: []kit.Setting{&splineOvershootShare, &splineOvershootMinTurn, &splineOvershootMinWay},
	Run:      runSplineOvershoot,
}

func runSplineOvershoot(c *kit.Context) []note.Note {
	var notes []note.Note
	s := c.Study
	for id := range s.Scene.Channels {
		x := &s.Scene.Channels[id]
		if x.Curve.Stride != 1 || x.Curve.Handles == nil || s.NatureOf(x.Part) != motion.Living {
			continue
		}
		if c.Ctx.Err() != nil {
			return nil
		}
		notes = append(notes, overshoots(c, scene.ChannelID(id))...)
	}
	return notes
}

// overshoots looks at every Bezier segment of one channel.
func overshoots(c *kit.Context, id scene.ChannelID) []note.Note {
	s := c.Study
	k := &s.Scene.Channels[id].Curve
	lo, hi := math.Inf(1), math.Inf(-1)
	for i := range k.Numbers() {
		v := k.Value(i)
		lo, hi = min(lo, v), max(hi, v)
	}
	limit := max(splineOvershootShare.In(c)*(hi-lo), unseen(c, id))
	var notes []note.Note
	for i := 0; i+1 < k.Len(); i++ {
		if k.SegmentInterp(i) != scene.Bezier || !solve.Authored(k, i) {
			continue
		}
		out, at := outside(k, i)
		a, b := s.Index(k.Times[i]), s.Index(k.Times[i+1])
		if out <= limit || limit == 0 || !s.Judged(a, b) {
			continue
		}
		notes = append(notes, overshootNote(c, id, i, out, at, hi-lo))
	}
	return notes
}

// unseen is the change of a channel that nobody sees, in its own unit.
func unseen(c *kit.Context, id scene.ChannelID) float64 {
	x := &c.Study.Scene.Channels[id]
	switch fig := c.Study.FigureOf(x.Part); {
	case x.Quantity == scene.Angle:
		return splineOvershootMinTurn.In(c)
	case x.Quantity == scene.Length && fig != nil:
		return splineOvershootMinWay.In(c) * fig.Size
	}
	return 0
}

// outside returns how far the segment from key i goes outside the interval of
// its two keys, and at which time. What lies between two frames no picture shows.
func outside(k *scene.Curve, i int) (far, at float64) {
	t0, t1 := k.Times[i], k.Times[i+1]
	v0, v1 := k.Value(i), k.Value(i+1)
	if k.PreValues != nil {
		v1 = k.PreValues[i+1]
	}
	lo, hi := min(v0, v1), max(v0, v1)
	step := max(1, math.Ceil((t1-t0)/4096))
	var v [1]float64
	for t := math.Floor(t0) + 1; t < t1; t += step {
		solve.EvalCurve(k, t, v[:])
		if d := max(lo-v[0], v[0]-hi); d > far {
			far, at = d, t
		}
	}
	return far, at
}

func overshootNote(c *kit.Context, id scene.ChannelID, i int, out, at, span float64) note.Note {
	s := c.Study
	x := &s.Scene.Channels[id]
	a, b := s.Index(x.Curve.Times[i]), s.Index(x.Curve.Times[i+1])
	n := c.Draft(x.Part, id, a, b)
	n.Span = s.Scene.KeySpan(id, i, 0)
	n.First, n.Last = x.Curve.Times[i], x.Curve.Times[i+1]
	q := track.Position
	size := words.Percent(out/span) + " of its range"
	if x.Quantity == scene.Angle {
		size = kit.Amount(track.Rotation, out)
	}
	n.Message = fmt.Sprintf("frames %s-%s: %s %s runs %s past its keys near frame %s; flatten it or key the extreme",
		words.Frame(n.First), words.Frame(n.Last), c.Name(x.Part), x.Name, size, words.Frame(at))
	n.Measures = []note.Measure{{Name: "outside", Value: out / span, Unit: "range"}}
	if fig := s.FigureOf(x.Part); fig != nil {
		n.Weight = c.Weigh(fig, x.Part, kit.LikeFigures(q, 0.01*out/span))
	}
	return n
}
