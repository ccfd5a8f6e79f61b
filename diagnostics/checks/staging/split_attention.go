package staging

import (
	_ "embed"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/body"
	"curvelint/diagnostics/motion/track"
	"curvelint/diagnostics/note"
	"curvelint/diagnostics/words"
	"curvelint/parse/scene"
)

//go:embed split_attention.md
var splitAttentionDoc string

// The settings of split-attention.
var (
	splitAttentionFaster   = kit.Number{Name: "faster", Unit: "ratio", Default: 2, Min: 1, Max: 100, Doc: "how many times faster than the head something else moves"}
	splitAttentionMinSpeed = kit.Number{Name: "min_speed", Unit: "pictures/s", Default: 0.3, Min: 0, Max: 100, Doc: "least speed of what pulls the eye"}
)

// The limits of split-attention.
var (
	splitAttentionBlink = kit.Limit{Name: "blink", Value: 0.5, Unit: "s",
		Doc:    "a stroke of the lids that is taken back within this time is half of a blink",
		Source: "a blink takes 0.1-0.4 s; common practice, no source"}
	splitAttentionTakenBack = kit.Limit{Name: "taken_back", Value: 0.5, Unit: "ratio",
		Doc:    "it is taken back when less of its way is left",
		Source: "common practice, no source"}
)

// SplitAttention finds motion that pulls the eye from a face that changes.
var SplitAttention = &kit.Check{
	ID:                "split-attention",
	Severity:          note.Information,
	Group:             kit.Staging,
	Title:             "the eye is pulled elsewhere",
	Doc:               splitAttentionDoc,
	Settings:          []kit.Setting{&splitAttentionFaster, &splitAttentionMinSpeed},
	Limits:            []*kit.Limit{&splitAttentionBlink, &splitAttentionTakenBack, &kit.KeepsTime, &kit.KeepsShare, &kit.DriverSpan},
	SilentWhenBlocked: true,
	Run:               runSplitAttention,
}

func runSplitAttention(c *kit.Context) []note.Note {
	v := c.Study.View()
	if v == nil {
		return nil
	}
	var notes []note.Note
	for _, fig := range c.Living() {
		head := -1
		for i, p := range fig.Points {
			if p.Role == body.HeadPoint {
				head = i
			}
		}
		if head < 0 {
			continue
		}
		for _, g := range fig.Groups {
			if b := g.Label.Body; b != body.Brows && b != body.Mouth && b != body.Lids {
				continue
			}
			for _, k := range g.Strokes() {
				if c.Ctx.Err() != nil {
					return nil
				}
				// A blink comes back at once and is no change.
				if kit.Stays(k) && !blinks(g, k) && c.Study.Judged(k.Stroke.First, k.Stroke.Last) {
					if n, ok := pulled(c, fig, v, head, k); ok {
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
	if g.Label.Body != body.Lids {
		return false
	}
	t := k.Track
	half := splitAttentionBlink.Frames(t.Rate)
	from, to := t.At(k.Stroke.First), t.At(k.Stroke.Last)
	back := func(i int, p r3.Vec) bool {
		return i >= 0 && i < t.Len() && r3.Norm(r3.Sub(t.At(i), p)) < splitAttentionTakenBack.Value*k.Stroke.Chord
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
func pulled(c *kit.Context, fig *motion.Figure, v *motion.View, head int, k motion.GroupStroke) (note.Note, bool) {
	s := c.Study
	a, b := k.Stroke.First, k.Stroke.Last
	seconds := float64(b-a) / s.Rate
	own := v.ScreenTrack(fig, head).PathLength(a, b) / seconds
	worst, at := 0.0, -1
	for i, p := range fig.Points {
		if l := fig.LabelOf(p.Part).Body; i == head || l == body.Head || l == body.Neck || l.Face() || p.Role == body.RootPoint {
			continue
		}
		t := v.ScreenTrack(fig, i)
		if speed := t.PathLength(a, b) / seconds; speed > worst && inPicture(c.Study, v, t, a, b) {
			worst, at = speed, i
		}
	}
	if at < 0 || worst <= splitAttentionFaster.In(c)*own || worst <= splitAttentionMinSpeed.In(c) {
		return note.Note{}, false
	}
	t := fig.CarriedTrack(at)
	n := c.Draft(t.Part, kit.Driver(c, t, (a+b)/2), a, b)
	n.Message = fmt.Sprintf("%s: %s moves at %s while the %s change; quiet it, or change the face before or after", c.Span(a, b), kit.PointName(c, fig, at), words.Amount("pictures/s", worst), k.Group.Name)
	n.Weight = c.Weigh(fig, k.Track.Part, worst*seconds)
	n.Measures = []note.Measure{
		{Name: "speed", Value: worst, Unit: "pictures/s"},
		{Name: "head-speed", Value: own, Unit: "pictures/s"},
	}
	if ch := kit.Driver(c, k.Track, a); ch >= 0 {
		c.Relate(&n, ch, a, "the %s change here", k.Group.Name)
	}
	n.Causes = append(n.Causes, t.Part)
	return n, true
}

// inPicture reports whether a point is in the picture at some time between the frame
// indices a and b: what is outside pulls no eye.
func inPicture(s *motion.Study, v *motion.View, t *track.Track, a, b int) bool {
	if s.Scene.Parts[t.Part].Kind == scene.PictureTrack {
		return true
	}
	for i := a; i <= b; i++ {
		if p := t.WorldPoint(i); math.Abs(p.X) <= v.Aspect/2 && math.Abs(2*p.Y) <= 1 {
			return true
		}
	}
	return false
}
