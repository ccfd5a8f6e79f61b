package checks

import (
	_ "embed"
	"fmt"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
)

//go:embed pivot_arc.md
var pivotArcDoc string

// PivotArc finds whole chains swung by one joint.
var PivotArc = &Check{
	ID:       "pivot-arc",
	Severity: note.Information,
	Group:    Paths,
	Title:    "one joint swings a whole chain",
	Doc:      pivotArcDoc,
	Settings: []Setting{
		{Name: "fit", Unit: "ratio", Default: 0.01, Min: 0, Max: 1, Doc: "how far the path leaves a circle, as a share of its radius"},
		{Name: "centre", Unit: "ratio", Default: 0.02, Min: 0, Max: 1, Doc: "how far the circle's axis passes from the pivot, as a share of its radius"},
		{Name: "min_radius", Unit: "figure", Default: 0.15, Min: 0, Max: 100, Doc: "smallest circle"},
		{Name: "min_sweep", Unit: "degrees", Default: 45, Min: 5, Max: 360, Doc: "least angle swept, and turned by the joint itself"},
		{Name: "min_time", Unit: "s", Default: 0.3, Min: 0, Max: 10, Doc: "shortest stroke"},
		{Name: "inner_turn", Unit: "degrees", Default: 3, Min: 0, Max: 90, Doc: "an inner joint that turns more than this bends the chain"},
	},
	SilentWhenBlocked: true,
	YieldsTo:          []string{"lockstep"},
	Run:               runPivotArc,
}

type pivotFinding struct {
	finding
	circle motion.Circle
	pivot  scene.PartID
}

// pivotJoints is how many joints the chain has at least, with the one that
// swings: a head on its neck has two and may well turn in a circle.
const pivotJoints = 3

func runPivotArc(c *Context) []note.Note {
	var notes []note.Note
	for _, fig := range c.living() {
		if fig.Locomotion() {
			continue
		}
		var all []pivotFinding
		for i, p := range fig.Points {
			joints := c.chainAbove(fig, p.Part)
			if len(joints) < pivotJoints {
				continue
			}
			t := fig.CarriedTrack(i)
			for _, k := range t.Strokes() {
				if c.Ctx.Err() != nil {
					return nil
				}
				if f, ok := c.pivots(fig, joints, t, k); ok {
					all = append(all, f)
				}
			}
		}
		for _, f := range oneCause(fig, all, func(f *pivotFinding) *finding { return &f.finding }) {
			notes = append(notes, c.pivotNote(fig, f))
		}
	}
	return notes
}

// chainAbove is the chain that ends at a part, from its tip up: the joints of one
// limb, tail or wing, whether they turn or not, or the spine with neck and head.
func (c *Context) chainAbove(fig *motion.Figure, tip scene.PartID) []scene.PartID {
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
func trunk(b motion.Body) bool { return b == motion.Chest || b == motion.Neck || b == motion.Head }

// pivots reports whether a stroke of a chain's tip is a circle about one of the
// chain's joints while none of those beyond it bends. The way of the pivot
// itself is left out: a body that breathes or leans does not make the swing less
// stiff.
func (c *Context) pivots(fig *motion.Figure, joints []scene.PartID, t *motion.Track, k motion.Stroke) (pivotFinding, bool) {
	s := c.Study
	least := c.Setting("min_radius") * c.Setting("min_sweep") / degrees
	if float64(k.Last-k.First)/s.Rate < c.Setting("min_time") || k.Length < least || !s.Judged(k.First, k.Last) {
		return pivotFinding{}, false
	}
	pivot, ok := c.stiffBeyond(joints, k)
	if !ok {
		return pivotFinding{}, false
	}
	path := make([]r3.Vec, 0, k.Last-k.First+1)
	travel, last := 0.0, r3.Vec{}
	for i := k.First; i <= k.Last; i++ {
		at := c.carriedPosition(t, pivot, i)
		if i > k.First {
			travel += r3.Norm(r3.Sub(at, last))
		}
		last = at
		path = append(path, r3.Sub(t.At(i), at))
	}
	circle, ok := motion.FitCircle(path)
	if !ok || travel > pivotTravel*k.Length || circle.Radius < c.Setting("min_radius") || circle.Sweep < c.Setting("min_sweep") ||
		circle.Worst > c.Setting("fit")*circle.Radius || offAxis(circle) > c.Setting("centre")*circle.Radius {
		return pivotFinding{}, false
	}
	f := pivotFinding{finding{track: t, first: k.First, last: k.Last, size: k.Length}, circle, pivot}
	f.drivers = s.Drivers(t, k.First, k.Last)
	return f, true
}

// offAxis is how far the circle's axis passes from the origin. A limb that leans
// to the axis it swings about draws a circle beside its pivot, not around it.
func offAxis(circle motion.Circle) float64 {
	along := r3.Dot(circle.Centre, circle.Normal)
	return r3.Norm(r3.Sub(circle.Centre, r3.Scale(along, circle.Normal)))
}

// pivotTravel is how far, as a share of the tip's way, the pivot may itself go:
// beyond that the audience sees a body move, not a limb swing.
const pivotTravel = 0.25

// stiffBeyond returns the only joint of a chain that bends in a stroke, when it
// makes the swing by itself, carries most of the chain and at least two joints
// lie beyond it. joints run from the tip up.
func (c *Context) stiffBeyond(joints []scene.PartID, k motion.Stroke) (scene.PartID, bool) {
	pivot, beyond, carried, whole := scene.NoPart, 0, 0.0, 0.0
	for n, p := range joints {
		if r := c.Study.RotationTrack(p); r != nil && r.PathLength(k.First, k.Last) >= c.Setting("inner_turn") {
			if pivot != scene.NoPart {
				return pivot, false // several joints share the move
			}
			pivot, beyond, carried = p, n, whole
		}
		if n+1 < len(joints) {
			whole += c.boneAbove(p)
		}
	}
	if pivot == scene.NoPart || beyond < pivotJoints-1 || carried < wholeChain*whole {
		return pivot, false
	}
	// What the body adds to the swing is not this joint's: both together draw
	// circles of many more degrees than the joint turns.
	return pivot, c.Study.RotationTrack(pivot).PathLength(k.First, k.Last) >= c.Setting("min_sweep")
}

// wholeChain is how much of a chain's length must swing: a forearm that turns at
// its elbow leaves the arm above in peace.
const wholeChain = 0.75

// boneAbove is the length of the bone from a part's parent to the part.
func (c *Context) boneAbove(p scene.PartID) float64 {
	m := c.Study.LocalAt(p, c.Study.First)
	return r3.Norm(m.Origin())
}

// carriedPosition is where a part is at a frame, in the unit and space of a
// carried track.
func (c *Context) carriedPosition(t *motion.Track, p scene.PartID, i int) r3.Vec {
	s := c.Study
	at := s.WorldPosition(p, s.Frame(i))
	if t.Carrier != scene.NoPart {
		m := s.WorldAt(t.Carrier, s.Frame(i))
		m = m.Inverse()
		at = m.Point(at)
	}
	return r3.Scale(1/t.Unit, r3.Sub(at, r3.Vec{X: t.Origin[0], Y: t.Origin[1], Z: t.Origin[2]}))
}

func (c *Context) pivotNote(fig *motion.Figure, f pivotFinding) note.Note {
	ch := f.driver()
	p := c.Study.Scene.Channels[ch].Part
	n := c.draft(p, ch, f.first, f.last)
	n.Message = fmt.Sprintf("%s: %s swings on %s alone, a perfect circle of %.0f degrees; bend the joints along the way",
		c.span(f.first, f.last), f.track.Name, c.name(f.pivot), f.circle.Sweep)
	n.Weight = c.weigh(fig, f.track.Part, f.size)
	n.Measures = []note.Measure{
		{Name: "radius", Value: f.circle.Radius, Unit: "figure"},
		{Name: "sweep", Value: f.circle.Sweep, Unit: "degrees"},
		{Name: "off-circle", Value: f.circle.Worst / f.circle.Radius, Unit: "ratio"},
	}
	n.Causes = append(n.Causes, p, f.track.Part)
	return n
}
