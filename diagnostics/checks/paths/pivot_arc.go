package paths

import (
	_ "embed"
	"fmt"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/body"
	"curvelint/diagnostics/motion/fit"
	"curvelint/diagnostics/motion/track"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
)

//go:embed pivot_arc.md
var pivotArcDoc string

// The settings of pivot-arc.
var (
	pivotArcFit       = kit.Number{Name: "fit", Unit: "ratio", Default: 0.01, Min: 0, Max: 1, Doc: "how far the path leaves a circle, as a share of its radius"}
	pivotArcCentre    = kit.Number{Name: "centre", Unit: "ratio", Default: 0.02, Min: 0, Max: 1, Doc: "how far the circle's axis passes from the pivot, as a share of its radius"}
	pivotArcMinRadius = kit.Number{Name: "min_radius", Unit: "figure", Default: 0.15, Min: 0, Max: 100, Doc: "smallest circle"}
	pivotArcMinSweep  = kit.Number{Name: "min_sweep", Unit: "degrees", Default: 45, Min: 5, Max: 360, Doc: "least angle swept, and turned by the joint itself"}
	pivotArcMinTime   = kit.Seconds{Name: "min_time", Default: 0.3, Min: 0, Max: 10, Doc: "shortest stroke"}
	pivotArcInnerTurn = kit.Number{Name: "inner_turn", Unit: "degrees", Default: 3, Min: 0, Max: 90, Doc: "an inner joint that turns more than this bends the chain"}
)

// The limits of pivot-arc.
var (
	pivotArcJoints = kit.Limit{Name: "joints", Value: 3, Unit: "count",
		Doc:    "a chain of fewer joints may well turn in a circle, as a head on its neck",
		Source: "common practice, no source"}
	pivotArcTravel = kit.Limit{Name: "travel", Value: 0.25, Unit: "ratio",
		Doc:    "a pivot that goes more than this share of the tip's way is a body that moves, not a limb that swings",
		Source: "common practice, no source"}
	pivotArcWholeChain = kit.Limit{Name: "whole_chain", Value: 0.75, Unit: "ratio",
		Doc:    "this share of the chain must swing: a forearm that turns at its elbow leaves the arm above in peace",
		Source: "common practice, no source"}
)

// PivotArc finds whole chains swung by one joint.
var PivotArc = &kit.Check{
	ID:                "pivot-arc",
	Severity:          note.Information,
	Group:             kit.Paths,
	Title:             "one joint swings a whole chain",
	Doc:               pivotArcDoc,
	Settings:          []kit.Setting{&pivotArcFit, &pivotArcCentre, &pivotArcMinRadius, &pivotArcMinSweep, &pivotArcMinTime, &pivotArcInnerTurn},
	Limits:            []*kit.Limit{&pivotArcJoints, &pivotArcTravel, &pivotArcWholeChain},
	SilentWhenBlocked: true,
	YieldsTo:          []string{"lockstep"},
	Run:               runPivotArc,
}

// pivotSwing is a circle that a tip draws about one joint.
type pivotSwing struct {
	kit.Candidate
	circle fit.Circle
	pivot  scene.PartID
}

func runPivotArc(c *kit.Context) []note.Note {
	var notes []note.Note
	for _, fig := range c.Living() {
		if fig.Locomotion() {
			continue
		}
		var all []pivotSwing
		for i, p := range fig.Points {
			joints := chainAbove(c, fig, p.Part)
			if len(joints) < int(pivotArcJoints.Value) {
				continue
			}
			t := fig.CarriedTrack(i)
			for _, k := range t.Strokes() {
				if c.Ctx.Err() != nil {
					return nil
				}
				if f, ok := pivots(c, fig, joints, t, k); ok {
					all = append(all, f)
				}
			}
		}
		for _, f := range kit.OneCause(fig, all, func(f *pivotSwing) *kit.Candidate { return &f.Candidate }) {
			notes = append(notes, pivotNote(c, fig, f))
		}
	}
	return notes
}

// chainAbove is the chain that ends at a part, from its tip up: the joints of one
// limb, tail or wing, whether they turn or not, or the spine with neck and head.
func chainAbove(c *kit.Context, fig *motion.Figure, tip scene.PartID) []scene.PartID {
	parts := c.Study.Scene.Parts
	var out []scene.PartID
	var group *motion.Group
	spine := false
	for p := tip; p != scene.NoPart && fig.Holds(p); p = parts[p].Parent {
		g := fig.GroupOf(p)
		switch {
		case group == nil && g != nil:
			group, spine = g, trunk(g.Label.Body)
		case g != nil && g != group && !(spine && trunk(g.Label.Body)):
			return out
		}
		out = append(out, p)
	}
	return out
}

// trunk reports whether a body part belongs to the spine, its neck or its head.
func trunk(b body.Body) bool { return b == body.Chest || b == body.Neck || b == body.Head }

// pivots reports whether a stroke of a chain's tip is a circle about one of the
// chain's joints while none of those beyond it bends. The way of the pivot
// itself is left out: a body that breathes or leans does not make the swing less
// stiff.
func pivots(c *kit.Context, fig *motion.Figure, joints []scene.PartID, t *track.Track, k track.Stroke) (pivotSwing, bool) {
	s := c.Study
	least := pivotArcMinRadius.In(c) * pivotArcMinSweep.In(c) / kit.DegreesPerRadian
	if float64(k.Last-k.First)/s.Rate < pivotArcMinTime.In(c) || k.Length < least || !s.Judged(k.First, k.Last) {
		return pivotSwing{}, false
	}
	pivot, ok := stiffBeyond(c, joints, k)
	if !ok {
		return pivotSwing{}, false
	}
	path := make([]r3.Vec, 0, k.Last-k.First+1)
	travel, last := 0.0, r3.Vec{}
	for i := k.First; i <= k.Last; i++ {
		at := carriedPosition(c, t, pivot, i)
		if i > k.First {
			travel += r3.Norm(r3.Sub(at, last))
		}
		last = at
		path = append(path, r3.Sub(t.At(i), at))
	}
	circle, ok := fit.CircleOf(path)
	if !ok || travel > pivotArcTravel.Value*k.Length || circle.Radius < pivotArcMinRadius.In(c) || circle.Sweep < pivotArcMinSweep.In(c) ||
		circle.Worst > pivotArcFit.In(c)*circle.Radius || offAxis(circle) > pivotArcCentre.In(c)*circle.Radius {
		return pivotSwing{}, false
	}
	f := pivotSwing{kit.Candidate{Track: t, First: k.First, Last: k.Last, Size: k.Length}, circle, pivot}
	f.Drivers = s.Drivers(t, k.First, k.Last)
	return f, true
}

// offAxis is how far the circle's axis passes from the origin. A limb that leans
// to the axis it swings about draws a circle beside its pivot, not around it.
func offAxis(circle fit.Circle) float64 {
	along := r3.Dot(circle.Centre, circle.Normal)
	return r3.Norm(r3.Sub(circle.Centre, r3.Scale(along, circle.Normal)))
}

// stiffBeyond returns the only joint of a chain that bends in a stroke, when it
// makes the swing by itself, carries most of the chain and at least two joints
// lie beyond it. joints run from the tip up.
func stiffBeyond(c *kit.Context, joints []scene.PartID, k track.Stroke) (scene.PartID, bool) {
	pivot, beyond, carried, whole := scene.NoPart, 0, 0.0, 0.0
	for n, p := range joints {
		if r := c.Study.RotationTrack(p); r != nil && r.PathLength(k.First, k.Last) >= pivotArcInnerTurn.In(c) {
			if pivot != scene.NoPart {
				return pivot, false // several joints share the move
			}
			pivot, beyond, carried = p, n, whole
		}
		if n+1 < len(joints) {
			whole += boneAbove(c, p)
		}
	}
	if pivot == scene.NoPart || beyond < int(pivotArcJoints.Value)-1 || carried < pivotArcWholeChain.Value*whole {
		return pivot, false
	}
	// What the body adds to the swing is not this joint's: both together draw
	// circles of many more degrees than the joint turns.
	return pivot, c.Study.RotationTrack(pivot).PathLength(k.First, k.Last) >= pivotArcMinSweep.In(c)
}

// boneAbove is the length of the bone from a part's parent to the part.
func boneAbove(c *kit.Context, p scene.PartID) float64 {
	m := c.Study.LocalAt(p, c.Study.First)
	return r3.Norm(m.Origin())
}

// carriedPosition is where a part is at a frame, in the unit and space of a
// carried track.
func carriedPosition(c *kit.Context, t *track.Track, p scene.PartID, i int) r3.Vec {
	s := c.Study
	at := s.WorldPosition(p, s.Frame(i))
	if t.Carrier != scene.NoPart {
		m := s.WorldAt(t.Carrier, s.Frame(i))
		m = m.Inverse()
		at = m.Point(at)
	}
	return r3.Scale(1/t.Unit, r3.Sub(at, r3.Vec{X: t.Origin[0], Y: t.Origin[1], Z: t.Origin[2]}))
}

func pivotNote(c *kit.Context, fig *motion.Figure, f pivotSwing) note.Note {
	ch := f.Driver()
	p := c.Study.Scene.Channels[ch].Part
	n := c.Draft(p, ch, f.First, f.Last)
	n.Message = fmt.Sprintf("%s: %s swings on %s alone, a perfect circle of %.0f degrees; bend the joints along the way",
		c.Span(f.First, f.Last), f.Track.Name, c.Name(f.pivot), f.circle.Sweep)
	n.Weight = c.Weigh(fig, f.Track.Part, f.Size)
	n.Measures = []note.Measure{
		{Name: "radius", Value: f.circle.Radius, Unit: "figure"},
		{Name: "sweep", Value: f.circle.Sweep, Unit: "degrees"},
		{Name: "off-circle", Value: f.circle.Worst / f.circle.Radius, Unit: "ratio"},
	}
	n.Causes = append(n.Causes, p, f.Track.Part)
	return n
}
