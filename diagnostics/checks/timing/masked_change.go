package timing

import (
	_ "embed"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/body"
	"curvelint/diagnostics/note"
	"curvelint/diagnostics/words"
)

//go:embed masked_change.md
var maskedChangeDoc string

// The settings of masked-change.
var (
	maskedChangeShare       = kit.Number{Name: "share", Unit: "ratio", Default: 0.8, Min: 0.3, Max: 1, Doc: "share of the change that happens while the head is fast"}
	maskedChangeLeast       = kit.Number{Name: "least", Unit: "range", Default: 0.3, Min: 0, Max: 1, Doc: "smallest change that is a loss to miss, as a share of the clip's range"}
	maskedChangeHeadSpeed   = kit.Number{Name: "head_speed", Unit: "degrees/s", Default: 120, Min: 1, Max: 10000, Doc: "a head that turns faster is fast"}
	maskedChangeScreenSpeed = kit.Number{Name: "screen_speed", Unit: "pictures/s", Default: 0.5, Min: 0.01, Max: 100, Doc: "a head that crosses the picture faster is fast"}
)

// MaskedChange finds changes of the face that a fast head hides.
var MaskedChange = &kit.Check{
	ID:                "masked-change",
	Severity:          note.Information,
	Group:             kit.Timing,
	Title:             "a face change hidden by a fast head",
	Doc:               maskedChangeDoc,
	Settings:          []kit.Setting{&maskedChangeShare, &maskedChangeLeast, &maskedChangeHeadSpeed, &maskedChangeScreenSpeed},
	Limits:            []*kit.Limit{&kit.KeepsTime, &kit.KeepsShare, &kit.FilmFrame, &kit.DriverSpan},
	SilentWhenBlocked: true,
	Run:               runMaskedChange,
}

func runMaskedChange(c *kit.Context) []note.Note {
	var notes []note.Note
	for _, fig := range c.Living() {
		fast := fastHead(c, fig)
		if fast == nil {
			continue
		}
		for _, g := range fig.Groups {
			if b := g.Label.Body; b != body.Brows && b != body.Mouth {
				continue
			}
			for _, k := range g.Strokes() {
				if c.Ctx.Err() != nil {
					return nil
				}
				if k.Stroke.Chord < maskedChangeLeast.In(c)*trackRange(k.Track) {
					continue // nothing is lost by missing it
				}
				if share := maskedShare(k, fast); share >= maskedChangeShare.In(c) && kit.Stays(k) && c.Study.Judged(k.Stroke.First, k.Stroke.Last) {
					notes = append(notes, maskedNote(c, fig, k, share))
				}
			}
		}
	}
	return notes
}

// fastHead marks the steps in which the head turns or crosses the picture
// quickly; nil for a figure without a head that does.
func fastHead(c *kit.Context, fig *motion.Figure) []bool {
	s := c.Study
	head := fig.Group(body.Head.String())
	if head == nil {
		return nil
	}
	fast := make([]bool, max(s.N-1, 0))
	if t := headTurn(c.Study, head); t != nil {
		for i, v := range t.Speed() {
			fast[i] = v > maskedChangeHeadSpeed.In(c)
		}
	}
	if v := s.View(); v != nil {
		for i, p := range fig.Points {
			if p.Role == body.HeadPoint {
				crossing(c, v, fig, i, fast)
			}
		}
	}
	if !slices.Contains(fast, true) {
		return nil
	}
	return fast
}

// crossing marks the steps in which a point of the figure crosses the picture
// quickly by its own doing: it must do so for a camera that follows it and for one
// that stands still, since a pan over a quiet face is the camera's.
func crossing(c *kit.Context, v *motion.View, fig *motion.Figure, point int, fast []bool) {
	s, limit := c.Study, maskedChangeScreenSpeed.In(c)
	t, w := fig.PointTrack(point), kit.FilmFrame.Frames(s.Rate)
	origin := r3.Vec{X: t.Origin[0], Y: t.Origin[1], Z: t.Origin[2]}
	at := func(i int) r3.Vec { return r3.Add(origin, r3.Scale(t.Unit, t.At(i))) }
	for i, speed := range v.ScreenTrack(fig, point).Speed() {
		if fast[i] || speed <= limit {
			continue
		}
		eye := v.At(s.Frame(i))
		a, b := max(i-(w-1)/2, 0), min(i+1+w/2, t.Len()-1)
		x0, y0, _, ok0 := eye.Project(at(a))
		x1, y1, _, ok1 := eye.Project(at(b))
		fast[i] = ok0 && ok1 && math.Hypot(x1-x0, y1-y0)*s.Rate > limit*float64(b-a)
	}
}

// maskedShare is the share of a stroke's path that lies in fast steps.
func maskedShare(k motion.GroupStroke, fast []bool) float64 {
	in, all := 0.0, 0.0
	for i := k.Stroke.First; i < k.Stroke.Last; i++ {
		v := k.Track.Spacing()[i]
		all += v
		if fast[i] {
			in += v
		}
	}
	if all == 0 {
		return 0
	}
	return in / all
}

// maskedNote sits on the change that the fast head hides.
func maskedNote(c *kit.Context, fig *motion.Figure, k motion.GroupStroke, share float64) note.Note {
	p := k.Track.Part
	n := c.Draft(p, kit.Driver(c, k.Track, k.Stroke.First), k.Stroke.First, k.Stroke.Last)
	n.Message = fmt.Sprintf("%s: %s of the %s change lies in a fast turn of the head; change before it or after",
		c.Span(k.Stroke.First, k.Stroke.Last), words.Percent(share), k.Group.Name)
	n.Weight = c.Weigh(fig, p, kit.LikeFigures(k.Track.Quality, k.Stroke.Length))
	n.Measures = []note.Measure{{Name: "masked", Value: share, Unit: "ratio"}}
	n.Causes = append(n.Causes, p)
	return n
}
