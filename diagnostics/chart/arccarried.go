package chart

import (
	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/words"
)

// pathsFromCarrier finds the paths of a point on something that carries its figure,
// such as a deck, as they are seen from there: a rocking deck would bend every arc, and
// what is judged is the arc that the figure makes. Carrier and camera stand as they do
// in the middle of the frames.
func (c *arcChart) pathsFromCarrier(fig *motion.Figure, i int, o *Options) {
	c.where = "seen from " + c.study.Scene.Parts[c.track.Carrier].Name
	c.unit = words.UnitName("pictures")
	c.now = carriedPath(c.study, fig, i, c.clip)
	if b, j, other := c.beforePoint(o); b != nil {
		if r, err := rangeOf(b, c.study.Frame(c.clip.first), c.study.Frame(c.clip.last)); err == nil {
			c.before = carriedPath(b, other, j, r)
		}
	}
}

// carriedPath returns the path of a point from what carries it in the picture of the
// middle frame; empty when nothing carries it there, or without a camera. Places behind
// the camera keep the one before.
func carriedPath(s *motion.Study, fig *motion.Figure, i int, r clip) arcPath {
	out := arcPath{first: s.Frame(r.first)}
	t, v := fig.CarriedTrack(i), s.View()
	if t == nil || t.Carrier < 0 || v == nil {
		return arcPath{}
	}
	middle := (r.first + r.last) / 2
	stands, eye := s.Worlds(t.Carrier, middle, middle+1)[0], v.At(s.Frame(middle))
	origin := r3.Vec{X: t.Origin[0], Y: t.Origin[1], Z: t.Origin[2]}
	last := point{}
	for f := r.first; f <= r.last; f++ {
		place := stands.Point(r3.Add(origin, r3.Scale(t.Unit, t.At(f))))
		if x, y, _, ok := eye.Project(place); ok {
			last = point{100 * x, 100 * y}
		}
		out.at = append(out.at, last)
	}
	return out
}
