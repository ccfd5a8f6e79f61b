package checks

import (
	_ "embed"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
)

//go:embed out_of_frame.md
var outOfFrameDoc string

//go:embed split_attention.md
var splitAttentionDoc string

//go:embed crossed_face.md
var crossedFaceDoc string

// OutOfFrame finds where the focus leaves the picture.
var OutOfFrame = &Check{
	ID:       "out-of-frame",
	Severity: note.Information,
	Group:    Staging,
	Title:    "the focus leaves the picture",
	Doc:      outOfFrameDoc,
	Settings: []Setting{
		{Name: "safe", Unit: "ratio", Default: 0.9, Min: 0.1, Max: 2, Doc: "share of the picture that counts as inside"},
		{Name: "min_time", Unit: "s", Default: 0.125, Min: 0, Max: 10, Doc: "shortest time outside"},
	},
	Run: runOutOfFrame,
}

// SplitAttention finds motion that pulls the eye from a face that changes.
var SplitAttention = &Check{
	ID:       "split-attention",
	Severity: note.Information,
	Group:    Staging,
	Title:    "the eye is pulled elsewhere",
	Doc:      splitAttentionDoc,
	Settings: []Setting{
		{Name: "faster", Unit: "ratio", Default: 2, Min: 1, Max: 100, Doc: "how many times faster than the head something else moves"},
		{Name: "min_speed", Unit: "pictures/s", Default: 0.3, Min: 0, Max: 100, Doc: "least speed of what pulls the eye"},
	},
	SilentWhenBlocked: true,
	Run:               runSplitAttention,
}

// CrossedFace finds what passes in front of the face.
var CrossedFace = &Check{
	ID:       "crossed-face",
	Severity: note.Information,
	Group:    Staging,
	Title:    "something passes in front of the face",
	Doc:      crossedFaceDoc,
	Settings: []Setting{
		{Name: "overlap", Unit: "ratio", Default: 0.3, Min: 0, Max: 1, Doc: "share of the head's width that is covered"},
		{Name: "min_time", Unit: "s", Default: 0.125, Min: 0, Max: 10, Doc: "shortest time"},
	},
	Run: runCrossedFace,
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

func runOutOfFrame(c *Context) []note.Note {
	s := c.Study
	v := s.View()
	if v == nil {
		return nil
	}
	least := s.Window(c.Setting("min_time"))
	half := c.Setting("safe") / 2
	var notes []note.Note
	for _, fig := range c.living() {
		i := focusPoint(fig)
		if i < 0 || c.Ctx.Err() != nil {
			continue
		}
		t, at := fig.PointTrack(i), watched(c, fig, i)
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
			ch := c.driver(t, a)
			n := c.draft(t.Part, ch, a, f-1)
			n.Message = fmt.Sprintf("%s: %s leaves the picture for %s; hold it inside or let the camera follow", c.span(a, f-1), t.Name, frames(f-a))
			n.Weight = c.weigh(fig, t.Part, 0.2)
			n.Measures = []note.Measure{{Name: "outside", Value: float64(f - a), Unit: "frames"}}
			n.Causes = append(n.Causes, t.Part)
			notes = append(notes, n)
		}
	}
	return notes
}

// watched is where the audience looks to see a point: of a head at its middle, since a
// close shot cuts the crown as a rule.
func watched(c *Context, fig *motion.Figure, i int) func(f int) r3.Vec {
	t := fig.PointTrack(i)
	ball, ok := fig.HeadBall()
	if !ok || fig.Points[i].Role != motion.HeadPoint || ball.Part != t.Part {
		return t.WorldPoint
	}
	turned := c.Study.Worlds(ball.Part, 0, c.Study.N)
	return func(f int) r3.Vec { return turned[f].Point(ball.Centre) }
}

func runSplitAttention(c *Context) []note.Note {
	v := c.Study.View()
	if v == nil {
		return nil
	}
	var notes []note.Note
	for _, fig := range c.living() {
		head := -1
		for i, p := range fig.Points {
			if p.Role == motion.HeadPoint {
				head = i
			}
		}
		if head < 0 {
			continue
		}
		for _, g := range fig.Groups {
			if b := g.Label.Body; b != motion.Brows && b != motion.Mouth && b != motion.Lids {
				continue
			}
			for _, k := range g.Strokes() {
				if c.Ctx.Err() != nil {
					return nil
				}
				// A blink comes back at once and is no change.
				if stays(k) && !blinks(g, k) && c.Study.Judged(k.Stroke.First, k.Stroke.Last) {
					if n, ok := c.pulled(fig, v, head, k); ok {
						notes = append(notes, n)
					}
				}
			}
		}
	}
	return firstOfOverlapping(notes)
}

// blinks reports whether a stroke of the lids is half of a blink: a stroke of half a
// second before or after it takes back most of its way.
func blinks(g *motion.Group, k motion.GroupStroke) bool {
	if g.Label.Body != motion.Lids {
		return false
	}
	t := k.Track
	half := motion.Window(t.Rate, 0.5)
	from, to := t.At(k.Stroke.First), t.At(k.Stroke.Last)
	back := func(i int, p r3.Vec) bool {
		return i >= 0 && i < t.Len() && r3.Norm(r3.Sub(t.At(i), p)) < 0.5*k.Stroke.Chord
	}
	for d := 1; d <= half; d++ {
		if back(k.Stroke.First-d, to) || back(k.Stroke.Last+d, from) {
			return true
		}
	}
	return false
}

// pulled compares the head's mean speed on the screen during a change of the
// face with that of every point outside the head.
func (c *Context) pulled(fig *motion.Figure, v *motion.View, head int, k motion.GroupStroke) (note.Note, bool) {
	s := c.Study
	a, b := k.Stroke.First, k.Stroke.Last
	seconds := float64(b-a) / s.Rate
	own := v.ScreenTrack(fig, head).PathLength(a, b) / seconds
	worst, at := 0.0, -1
	for i, p := range fig.Points {
		if l := fig.LabelOf(p.Part).Body; i == head || l == motion.Head || l == motion.Neck || l.Face() || p.Role == motion.RootPoint {
			continue
		}
		t := v.ScreenTrack(fig, i)
		if speed := t.PathLength(a, b) / seconds; speed > worst && c.inPicture(v, t, a, b) {
			worst, at = speed, i
		}
	}
	if at < 0 || worst <= c.Setting("faster")*own || worst <= c.Setting("min_speed") {
		return note.Note{}, false
	}
	t := fig.CarriedTrack(at)
	n := c.draft(t.Part, c.driver(t, (a+b)/2), a, b)
	n.Message = fmt.Sprintf("%s: %s moves at %.1f pictures/s while the %s change; quiet it, or change the face before or after", c.span(a, b), pointName(c, fig, at), worst, k.Group.Name)
	n.Weight = c.weigh(fig, k.Track.Part, worst*seconds)
	n.Measures = []note.Measure{
		{Name: "speed", Value: worst, Unit: "pictures/s"},
		{Name: "head-speed", Value: own, Unit: "pictures/s"},
	}
	if ch := c.driver(k.Track, a); ch >= 0 {
		c.relate(&n, ch, a, "the %s change here", k.Group.Name)
	}
	n.Causes = append(n.Causes, t.Part)
	return n, true
}

// inPicture reports whether a point is in the picture at some time between the frame
// indices a and b: what is outside pulls no eye.
func (c *Context) inPicture(v *motion.View, t *motion.Track, a, b int) bool {
	if c.Study.Scene.Parts[t.Part].Kind == scene.PictureTrack {
		return true
	}
	for i := a; i <= b; i++ {
		if p := t.WorldPoint(i); math.Abs(p.X) <= v.Aspect/2 && math.Abs(p.Y) <= 0.5 {
			return true
		}
	}
	return false
}

// firstOfOverlapping keeps one note of those on the same part at the same time.
func firstOfOverlapping(notes []note.Note) []note.Note {
	var kept []note.Note
	for _, n := range notes {
		clash := false
		for _, k := range kept {
			clash = clash || (k.PartID == n.PartID && min(k.Last, n.Last) >= max(k.First, n.First))
		}
		if !clash {
			kept = append(kept, n)
		}
	}
	return kept
}

func runCrossedFace(c *Context) []note.Note {
	v := c.Study.View()
	if v == nil {
		return nil
	}
	var notes []note.Note
	for _, fig := range c.living() {
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
				if n, ok := c.crosses(fig, v, head, other, i); ok {
					notes = append(notes, n)
				}
			}
		}
	}
	return firstOfOverlapping(notes)
}

// headPath is a head with the path of its middle in the world.
type headPath struct {
	motion.Ball
	at []r3.Vec
}

// crosses looks for frames in which a point (with the bone it ends) is nearer to
// the camera than the head and covers it.
func (c *Context) crosses(fig *motion.Figure, v *motion.View, head headPath, other *motion.Figure, i int) (note.Note, bool) {
	s := c.Study
	p := other.Points[i]
	switch l := other.LabelOf(p.Part); {
	case other == fig && (l.Body == motion.Head || l.Body == motion.Neck || l.Body == motion.Chest || l.Body == motion.Hips || l.Body.Face() || l.Body == motion.Ears || l.Body == motion.Hair):
		return note.Note{}, false
	}
	bone := s.Scene.Parts[p.Part].Parent
	over := func(f int) bool {
		e := v.At(s.Frame(f))
		hx, hy, hd, ok := e.Project(head.at[f])
		if !ok {
			return false
		}
		rx, ry, _, _ := e.Project(r3.Add(head.at[f], r3.Scale(head.Radius, c.screenUp(v, f))))
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
		return radius > 0 && 1-gap/radius > c.Setting("overlap")
	}
	least := s.Window(c.Setting("min_time"))
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
		n := c.draft(t.Part, c.driver(t, a), a, f-1)
		n.Message = fmt.Sprintf("%s: %s passes in front of the face; take it lower, or past it faster", c.span(a, f-1), pointName(c, other, i))
		n.Weight = c.weigh(fig, head.Part, 0.2)
		n.Measures = []note.Measure{{Name: "time", Value: float64(f - a), Unit: "frames"}}
		n.Causes = append(n.Causes, t.Part)
		return n, true
	}
	return note.Note{}, false
}

// screenUp is the camera's up direction in the world.
func (c *Context) screenUp(v *motion.View, f int) r3.Vec {
	m := c.Study.WorldAt(v.Part(), c.Study.Frame(f))
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
