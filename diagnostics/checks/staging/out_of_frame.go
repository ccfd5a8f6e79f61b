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
	"curvelint/diagnostics/words"
)

//go:embed out_of_frame.md
var outOfFrameDoc string

// The settings of out-of-frame.
var (
	outOfFrameSafe    = kit.Number{Name: "safe", Unit: "ratio", Default: 0.9, Min: 0.1, Max: 2, Doc: "share of the picture that counts as inside"}
	outOfFrameMinTime = kit.Seconds{Name: "min_time", Default: 0.125, Min: 0, Max: 10, Doc: "shortest time outside"}
)

// OutOfFrame finds where the focus leaves the picture.
var OutOfFrame = &kit.Check{
	ID:       "out-of-frame",
	Severity: note.Information,
	Group:    kit.Staging,
	Title:    "the focus leaves the picture",
	Doc:      outOfFrameDoc,
	Settings: []kit.Setting{&outOfFrameSafe, &outOfFrameMinTime},
	Run:      runOutOfFrame,
}

// focusPoint is the index of the point the audience should watch, or -1.
func focusPoint(fig *motion.Figure) int {
	g := fig.FocusGroup()
	for i, p := range fig.Points {
		if g != nil && fig.GroupOf(p.Part) == g {
			return i
		}
	}
	return -1
}

func runOutOfFrame(c *kit.Context) []note.Note {
	s := c.Study
	v := s.View()
	if v == nil {
		return nil
	}
	least := outOfFrameMinTime.Frames(c)
	half := outOfFrameSafe.In(c) / 2
	var notes []note.Note
	for _, fig := range c.Living() {
		i := focusPoint(fig)
		if i < 0 || c.Ctx.Err() != nil {
			continue
		}
		t, at := fig.PointTrack(i), watched(s, fig, i)
		out := make([]bool, s.N)
		for f := range out {
			e := v.At(s.Frame(f))
			x, y, _, ok := e.Project(at(f))
			out[f] = !ok || math.Abs(x) > half*v.Aspect || math.Abs(y) > half
		}
		for f := 0; f < s.N; f++ {
			if !out[f] {
				continue
			}
			a := f
			for f < s.N && out[f] {
				f++
			}
			// Who starts outside makes an entrance; who never returns, an exit.
			if a == 0 || f == s.N || f-a < least || !s.Judged(a, f-1) {
				continue
			}
			ch := kit.Driver(c, t, a)
			n := c.Draft(t.Part, ch, a, f-1)
			n.Message = fmt.Sprintf("%s: %s leaves the picture for %s; hold it inside or let the camera follow", c.Span(a, f-1), t.Name, words.Count(f-a, "frame"))
			n.Weight = c.Weigh(fig, t.Part, 0.2)
			n.Measures = []note.Measure{{Name: "outside", Value: float64(f - a), Unit: "frames"}}
			n.Causes = append(n.Causes, t.Part)
			notes = append(notes, n)
		}
	}
	return notes
}

// watched is where the audience looks to see a point: of a head at its middle, since a
// close shot cuts the crown as a rule.
func watched(s *motion.Study, fig *motion.Figure, i int) func(f int) r3.Vec {
	t := fig.PointTrack(i)
	ball, ok := fig.HeadBall()
	if !ok || fig.Points[i].Role != body.HeadPoint || ball.Part != t.Part {
		return t.WorldPoint
	}
	turned := s.Worlds(ball.Part, 0, s.N)
	return func(f int) r3.Vec { return turned[f].Point(ball.Centre) }
}
