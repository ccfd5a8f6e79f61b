package staging

import (
	_ "embed"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/body"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
)

//go:embed crossed_face.md
var crossedFaceDoc string

// The settings of crossed-face.
var (
	crossedFaceOverlap = kit.Number{Name: "overlap", Unit: "ratio", Default: 0.3, Min: 0, Max: 1, Doc: "share of the head's width that is covered"}
	crossedFaceMinTime = kit.Seconds{Name: "min_time", Default: 0.125, Min: 0, Max: 10, Doc: "shortest time"}
)

// CrossedFace finds what passes in front of the face.
var CrossedFace = &kit.Check{
	ID:       "crossed-face",
	Severity: note.Information,
	Group:    kit.Staging,
	Title:    "something passes in front of the face",
	Doc:      crossedFaceDoc,
	Settings: []kit.Setting{&crossedFaceOverlap, &crossedFaceMinTime},
	Run:      runCrossedFace,
}

func runCrossedFace(c *kit.Context) []note.Note {
	v := c.Study.View()
	if v == nil {
		return nil
	}
	var notes []note.Note
	for _, fig := range c.Living() {
		ball, ok := fig.HeadBall()
		if !ok {
			continue
		}
		head := headPath{Ball: ball}
		for _, m := range c.Study.Worlds(ball.Part, 0, c.Study.N) {
			head.at = append(head.at, m.Point(ball.Centre))
		}
		for _, other := range c.Study.Figures() {
			for i := range other.Points {
				if c.Ctx.Err() != nil {
					return nil
				}
				if n, ok := crosses(c, fig, v, head, other, i); ok {
					notes = append(notes, n)
				}
			}
		}
	}
	return firstOfOverlapping(notes)
}

// headPath is a head with the path of its middle in the world.
type headPath struct {
	body.Ball
	at []r3.Vec
}

// crosses looks for frames in which a point (with the bone it ends) is nearer to
// the camera than the head and covers it.
func crosses(c *kit.Context, fig *motion.Figure, v *motion.View, head headPath, other *motion.Figure, i int) (note.Note, bool) {
	s := c.Study
	p := other.Points[i]
	switch l := other.LabelOf(p.Part); {
	case other == fig && (l.Body == body.Head || l.Body == body.Neck || l.Body == body.Chest || l.Body == body.Hips || l.Body.Face() || l.Body == body.Ears || l.Body == body.Hair):
		return note.Note{}, false
	}
	bone := s.Scene.Parts[p.Part].Parent
	over := func(f int) bool {
		e := v.At(s.Frame(f))
		hx, hy, hd, ok := e.Project(head.at[f])
		if !ok {
			return false
		}
		rx, ry, _, _ := e.Project(r3.Add(head.at[f], r3.Scale(head.Radius, screenUp(s, v, f))))
		radius := math.Hypot(rx-hx, ry-hy)
		x, y, d, ok := e.Project(other.PointTrack(i).WorldPoint(f))
		if !ok || d >= hd {
			return false
		}
		gap := math.Hypot(x-hx, y-hy)
		if bone != scene.NoPart && other.GroupOf(bone) != nil {
			if bx, by, bd, ok := e.Project(s.WorldPosition(bone, s.Frame(f))); ok && bd < hd {
				gap = toSegment(hx, hy, x, y, bx, by)
			}
		}
		// A bone through the middle covers the face; one that grazes the edge
		// of its circle covers nothing.
		return radius > 0 && 1-gap/radius > crossedFaceOverlap.In(c)
	}
	least := crossedFaceMinTime.Frames(c)
	for f := 0; f < s.N; f++ {
		if !over(f) {
			continue
		}
		a := f
		for f < s.N && over(f) {
			f++
		}
		if f-a < least || !s.Judged(a, f-1) {
			continue
		}
		t := other.CarriedTrack(i)
		n := c.Draft(t.Part, kit.Driver(c, t, a), a, f-1)
		n.Message = fmt.Sprintf("%s: %s passes in front of the face; take it lower, or past it faster", c.Span(a, f-1), kit.PointName(c, other, i))
		n.Weight = c.Weigh(fig, head.Part, 0.2)
		n.Measures = []note.Measure{{Name: "time", Value: float64(f - a), Unit: "frames"}}
		n.Causes = append(n.Causes, t.Part)
		return n, true
	}
	return note.Note{}, false
}

// screenUp is the camera's up direction in the world.
func screenUp(s *motion.Study, v *motion.View, f int) r3.Vec {
	m := s.WorldAt(v.Part(), s.Frame(f))
	up := m.Vector(r3.Vec{Y: 1})
	if n := r3.Norm(up); n > 0 {
		return r3.Scale(1/n, up)
	}
	return r3.Vec{Y: 1}
}

// toSegment is the distance of (px, py) from the segment from a to b.
func toSegment(px, py, ax, ay, bx, by float64) float64 {
	dx, dy := bx-ax, by-ay
	n := dx*dx + dy*dy
	t := 0.0
	if n > 0 {
		t = min(max(((px-ax)*dx+(py-ay)*dy)/n, 0), 1)
	}
	return math.Hypot(px-ax-t*dx, py-ay-t*dy)
}
