package chart

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/track"
	"curvelint/diagnostics/note"
	"curvelint/diagnostics/words"
	"curvelint/parse/scene"
)

// Arc draws the path of the point that a part carries from one display frame to
// another, with a mark for each frame: in the picture of the shot's camera, else
// in the plane that the path lies in best; on something that moves and carries the
// figure, such as a deck, as it is seen from there.
// What notes concern is marked along the path.
//
// An error says that there is nothing to draw: no such part or frames, a part
// that carries no point, or no motion.
func Arc(s *motion.Study, p scene.PartID, first, last float64, o Options) ([]byte, error) {
	o = o.settled()
	r, err := asked(s, p, first, last)
	if err != nil {
		return nil, err
	}
	c := arcChart{study: s, part: p, clip: r}
	if err := c.paths(&o); err != nil {
		return nil, err
	}
	c.step = o.Step
	if c.step == 0 {
		c.step = c.track.Stepping()
	}
	where := " " + c.where
	if o.Width < compactWidth {
		where = ""
	}
	title := fmt.Sprintf("%s arc%s, %s", c.track.Name, where, words.Span(s.Frame(r.first), s.Frame(r.last)))
	return picture(o, caption{title, c.describe()}, func(pen *pen) { c.draw(pen, title, &o) })
}

// arcPath is a path on its way into the picture: x to the right, y up, in the
// unit of its track.
type arcPath struct {
	first float64 // the display frame of the first position
	at    []point
}

type arcChart struct {
	study       *motion.Study
	part        scene.PartID
	clip        clip
	track       *track.Track // seen from the carrier: its strokes count
	now, before arcPath
	where       string // "through the camera"
	unit        string
	step        int
}

// paths finds the paths of both passes in one space.
func (c *arcChart) paths(o *Options) error {
	s := c.study
	fig := s.FigureOf(c.part)
	i := -1
	if fig != nil {
		i = fig.PointOn(c.part)
	}
	if i < 0 {
		return fmt.Errorf("%s carries no point to follow; choose a part at the end of a chain, a hand, a foot or the head", s.Scene.Parts[c.part].Path)
	}
	c.track = fig.CarriedTrack(i)
	if !moves(c.track, c.clip) {
		return still(s, c.part)
	}
	if c.track.Carrier != scene.NoPart && s.View() != nil {
		c.pathsFromCarrier(fig, i, o)
		return nil
	}
	if t := screenTrack(s, fig, i); t != nil {
		c.where, c.unit = "through the camera", words.UnitName("pictures")
		c.now = pathOf(s, t, c.clip, plane{r3.Vec{X: 1}, r3.Vec{Y: 1}})
		if b, j, other := c.beforePoint(o); b != nil {
			if t := screenTrack(b, other, j); t != nil {
				c.before = c.pathBefore(b, t, plane{r3.Vec{X: 1}, r3.Vec{Y: 1}})
			}
		}
		return nil
	}
	c.where, c.unit = "in its own plane", words.UnitName("figure")
	if c.track.Carrier != scene.NoPart {
		c.where = "seen from " + s.Scene.Parts[c.track.Carrier].Name
	}
	var all []r3.Vec
	for f := c.clip.first; f <= c.clip.last; f++ {
		all = append(all, c.track.At(f))
	}
	flat := bestPlane(all, fig.Up())
	c.now = pathOf(s, c.track, c.clip, flat)
	if b, j, other := c.beforePoint(o); b != nil {
		c.before = c.pathBefore(b, other.CarriedTrack(j), flat)
	}
	return nil
}

func moves(t *track.Track, r clip) bool {
	return t != nil && t.PathLength(r.first, r.last) > t.StillLimit()
}

func screenTrack(s *motion.Study, fig *motion.Figure, i int) *track.Track {
	if s.Scene.Parts[fig.Points[i].Part].Kind == scene.PictureTrack {
		return fig.PointTrack(i)
	}
	v := s.View()
	if v == nil {
		return nil
	}
	return v.ScreenTrack(fig, i)
}

// beforePoint finds the point in the earlier pass.
func (c *arcChart) beforePoint(o *Options) (*motion.Study, int, *motion.Figure) {
	p := matched(o.Before, c.study, c.part)
	if p == scene.NoPart {
		return nil, 0, nil
	}
	fig := o.Before.FigureOf(p)
	if fig == nil {
		return nil, 0, nil
	}
	if i := fig.PointOn(p); i >= 0 {
		return o.Before, i, fig
	}
	return nil, 0, nil
}

func pathOf(s *motion.Study, t *track.Track, r clip, flat plane) arcPath {
	out := arcPath{first: s.Frame(r.first)}
	// Tracks begin at zero; where that was in their space tells two passes
	// apart that begin differently.
	origin := r3.Vec{X: t.Origin[0], Y: t.Origin[1], Z: t.Origin[2]}
	unit := t.Unit
	if unit == 0 {
		unit = 1
	}
	for f := r.first; f <= r.last; f++ {
		p := flat.flat(r3.Add(r3.Scale(1/unit, origin), t.At(f)))
		out.at = append(out.at, point{100 * p.x, 100 * p.y})
	}
	return out
}

func (c *arcChart) pathBefore(b *motion.Study, t *track.Track, flat plane) arcPath {
	r, err := rangeOf(b, c.study.Frame(c.clip.first), c.study.Frame(c.clip.last))
	if err != nil {
		return arcPath{}
	}
	return pathOf(b, t, r, flat)
}

func (c *arcChart) describe() string {
	k := c.track.Measure(c.clip.first, c.clip.last)
	return words.Count(len(c.now.at), "frame") + ", arc depth " + words.Ratio(c.track.ArcDepth(k)) + ", travel " + words.Ratio(c.track.Travel(k)) + "."
}

func (c *arcChart) draw(p *pen, title string, o *Options) {
	b := p.heading(title, len(c.before.at) > 0)
	b.y0 += 4
	view := c.fit(p, b)
	c.drawGrid(p, b, view)
	first, last := c.study.Frame(c.clip.first), c.study.Frame(c.clip.last)
	notes := notesOn(c.study, o.Notes, c.part, first, last)
	now, before := view.points(c.now.at), view.points(c.before.at)
	c.drawNotes(p, now, notes)
	width := 2.0
	if c.dense() {
		width = 1.2
	}
	p.line(p.palette.before, 0.8*width, beforeDash, before...)
	c.marks(p, before, c.before.first, func(q point, big bool) { p.ring(p.palette.before, q, radius(p, big), 1.3) })
	p.line(p.palette.now, width, nil, now...)
	c.marks(p, now, c.now.first, func(q point, big bool) { p.dot(p.palette.now, q, radius(p, big)) })
	c.names(p, b, now, before, notes)
}

func radius(p *pen, big bool) float64 {
	r := 2.1
	if !p.compact {
		r = 2.8
	}
	if big {
		r += 1.6
	}
	return r
}

// fitting maps a path into a box without stretching it.
type fitting struct{ x, y scale }

func (f fitting) point(q point) point { return point{f.x.at(q.x), f.y.at(q.y)} }

func (f fitting) points(in []point) []point {
	out := make([]point, len(in))
	for i, q := range in {
		out[i] = f.point(q)
	}
	return out
}

// fit finds the largest size at which both paths fit into a box.
func (c *arcChart) fit(p *pen, b box) fitting {
	inner := box{b.x0 + 30, b.y0 + 22, b.x1 - 30, b.y1 - 2*p.letter() - 8}
	lo, hi := point{math.Inf(1), math.Inf(1)}, point{math.Inf(-1), math.Inf(-1)}
	for _, list := range [][]point{c.now.at, c.before.at} {
		for _, q := range list {
			if finite(q.x) && finite(q.y) {
				lo = point{min(lo.x, q.x), min(lo.y, q.y)}
				hi = point{max(hi.x, q.x), max(hi.y, q.y)}
			}
		}
	}
	k := min(inner.width()/max(hi.x-lo.x, 1e-9), inner.height()/max(hi.y-lo.y, 1e-9))
	mx, my := (lo.x+hi.x)/2, (lo.y+hi.y)/2
	cx, cy := (inner.x0+inner.x1)/2, (inner.y0+inner.y1)/2
	return fitting{scale{mx, mx + 1, cx, cx + k}, scale{my, my + 1, cy, cy - k}}
}

// drawGrid draws squares behind the paths and says how large they are.
func (c *arcChart) drawGrid(p *pen, b box, f fitting) {
	k := f.x.p1 - f.x.p0 // pixels a unit
	step := niceStep(b.width()/k, 8)
	inverse := func(s scale, px float64) float64 { return s.v0 + (px-s.p0)/(s.p1-s.p0) }
	for v := math.Ceil(inverse(f.x, b.x0)/step) * step; f.x.at(v) <= b.x1; v += step {
		p.line(p.palette.grid, 1, nil, point{f.x.at(v), b.y0}, point{f.x.at(v), b.y1})
	}
	for v := math.Ceil(inverse(f.y, b.y1)/step) * step; f.y.at(v) >= b.y0; v += step {
		p.line(p.palette.grid, 1, nil, point{b.x0, f.y.at(v)}, point{b.x1, f.y.at(v)})
	}
	s := "a square is " + words.OnScale(step, step) + " " + c.unit
	w := p.width(s)
	p.fill(p.palette.paper, box{b.x1 - w - 6, b.y1 - p.letter() - 4, b.x1, b.y1})
	p.label(p.palette.quiet, point{b.x1 - 2, b.y1 - 3}, right, s)
}

// dense reports whether the path has so many frames that a mark for each would
// hide it: then it is a thin line with some of them.
func (c *arcChart) dense() bool { return c.clip.last-c.clip.first > 400*c.step }

// marks calls draw for every frame that has a mark, with whether it is a large
// one: at both ends.
func (c *arcChart) marks(p *pen, at []point, first float64, draw func(q point, big bool)) {
	last, apart := point{math.Inf(-1), 0}, 1.0
	if c.dense() {
		apart = 12
	}
	for i := 0; i < len(at); i += c.step {
		big := i == 0 || i+c.step >= len(at)
		if !big && math.Hypot(at[i].x-last.x, at[i].y-last.y) < apart {
			continue
		}
		last = at[i]
		draw(at[i], big)
	}
}

// drawNotes lays a broad band under the frames of notes.
func (c *arcChart) drawNotes(p *pen, at []point, notes []note.Note) {
	for _, n := range notes {
		a, b := c.span(&n)
		p.line(p.palette.ink, 11, nil, at[a:b+1]...)
	}
	for _, n := range notes {
		a, b := c.span(&n)
		p.line(p.palette.note, 8.5, nil, at[a:b+1]...)
	}
}

// span returns the indices into the path that a note covers, two at least.
func (c *arcChart) span(n *note.Note) (a, b int) {
	last := len(c.now.at) - 1
	a = min(max(int(math.Round(n.First-c.now.first)), 0), last)
	b = min(max(int(math.Round(n.Last-c.now.first)), 0), last)
	if a == b {
		a, b = max(a-1, 0), min(b+1, last)
	}
	return a, b
}
