package chart

import (
	"fmt"
	"math"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/solve"
	"curvelint/diagnostics/words"
	"curvelint/parse/scene"
)

// Keys draws the values of one channel of a part from one display frame to
// another, between whole frames as well, with its keys where they are fewer
// than the frames: the channel that a note is about, else the one that changes
// most there. Of a quaternion or a matrix the component that changes most is
// drawn.
//
// An error says that there is nothing to draw: no such part or frames, or no
// channel that changes.
func Keys(s *motion.Study, p scene.PartID, first, last float64, o Options) ([]byte, error) {
	o = o.settled()
	r, err := asked(s, p, first, last)
	if err != nil {
		return nil, err
	}
	c := keysChart{study: s, part: p, first: s.Frame(r.first), last: s.Frame(r.last)}
	ch := c.choose(&o)
	if ch == nil {
		return nil, still(s, p)
	}
	c.now = c.read(ch)
	if q := matched(o.Before, s, p); q != scene.NoPart {
		for _, id := range o.Before.Channels(q) {
			if b := &o.Before.Scene.Channels[id]; b.Name == ch.Name && b.Curve.Stride == ch.Curve.Stride {
				c.before = c.read(b)
			}
		}
	}
	c.unit = unitOfChannel(ch)
	title := fmt.Sprintf("%s %s, %s", s.Scene.Parts[p].Name, ch.Name, words.Span(c.first, c.last))
	return picture(o, caption{title, c.describe()}, func(pen *pen) { c.draw(pen, title, &o) })
}

// curveRun is a channel on its way into the picture.
type curveRun struct {
	at   []point // display frame, value
	keys []point
	// baked is true for a curve with a key on nearly every frame.
	baked bool
}

type keysChart struct {
	study       *motion.Study
	part        scene.PartID
	component   int
	now, before curveRun
	unit        string
	first, last float64
}

// choose finds the channel to draw and its component; nil when none changes.
func (c *keysChart) choose(o *Options) *scene.Channel {
	var best *scene.Channel
	most := 0.0
	for _, id := range c.study.Channels(c.part) {
		ch := &c.study.Scene.Channels[id]
		if ch.Curve.Len() == 0 {
			continue
		}
		component, span := c.widest(&ch.Curve)
		for i := range o.Notes {
			if o.Notes[i].Channel == id && span > 0 {
				c.component = component
				return ch
			}
		}
		if span > most {
			best, most, c.component = ch, span, component
		}
	}
	return best
}

// widest is the component of a curve that changes most in the frames shown, and
// by how much.
func (c *keysChart) widest(curve *scene.Curve) (component int, span float64) {
	n := int(c.last-c.first) + 1
	lo, hi := make([]float64, curve.Stride), make([]float64, curve.Stride)
	v := make([]float64, curve.Stride)
	for i := range n {
		if !solve.EvalCurve(curve, c.first+float64(i), v) {
			continue
		}
		for k := range v {
			if i == 0 {
				lo[k], hi[k] = v[k], v[k]
			}
			lo[k], hi[k] = min(lo[k], v[k]), max(hi[k], v[k])
		}
	}
	for k := range lo {
		if d := hi[k] - lo[k]; d > span {
			component, span = k, d
		}
	}
	return component, span
}

// The curve is drawn from so many values a frame, but at most so many in all.
const (
	valuesAFrame = 8
	mostValues   = 4000
)

// read samples a channel and takes its keys in the frames shown.
func (c *keysChart) read(ch *scene.Channel) curveRun {
	var out curveRun
	v := make([]float64, ch.Curve.Stride)
	steps := min(int((c.last-c.first)*valuesAFrame), mostValues)
	for i := range steps + 1 {
		t := c.first + (c.last-c.first)*float64(i)/float64(steps)
		if solve.EvalCurve(&ch.Curve, t, v) && finite(v[c.component]) {
			out.at = append(out.at, point{t, v[c.component]})
		}
	}
	for i, t := range ch.Curve.Times {
		if y := ch.Curve.Value(i*ch.Curve.Stride + c.component); t >= c.first && t <= c.last && finite(y) {
			out.keys = append(out.keys, point{t, y})
		}
	}
	out.baked = float64(len(out.keys)) >= 0.9*(c.last-c.first)
	return out
}

func unitOfChannel(ch *scene.Channel) string {
	switch ch.Quantity {
	case scene.Angle:
		return "degrees"
	case scene.Length:
		return "scene units"
	case scene.Share:
		return "share"
	}
	return "value"
}

func (c *keysChart) describe() string {
	lo, hi := c.span()
	s := fmt.Sprintf("%s, from %s to %s %s", words.Count(len(c.now.keys), "key"), words.Value(lo), words.Value(hi), c.unit)
	if c.now.baked {
		s += ", a key on every frame"
	}
	return s + "."
}

// span is the range of the values of both passes.
func (c *keysChart) span() (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, run := range []*curveRun{&c.now, &c.before} {
		for _, q := range run.at {
			lo, hi = min(lo, q.y), max(hi, q.y)
		}
	}
	return lo, hi
}

func (c *keysChart) draw(p *pen, title string, o *Options) {
	rest := p.heading(title, len(c.before.at) > 0)
	b := box{rest.x0, rest.y0 + p.letter() + 8, rest.x1, rest.y1 - p.letter() - 5}
	lo, hi := c.span()
	step := niceStep(hi-lo, max(2, int(b.height()/(2.2*p.letter()))))
	lo, hi = math.Floor(lo/step+1e-9)*step, math.Ceil(hi/step-1e-9)*step
	b.x0 += max(p.width(words.OnScale(lo, step)), p.width(words.OnScale(hi, step))) + 14
	x, y := scale{c.first, c.last, b.x0, b.x1}, scale{lo, hi, b.y1, b.y0}
	notes := notesOn(c.study, o.Notes, c.part, c.first, c.last)
	p.noteAreas(b, x, notes)
	for i := 0; lo+float64(i)*step <= hi+1e-9*step; i++ {
		v := lo + float64(i)*step
		p.line(p.palette.grid, 1, nil, point{b.x0, y.at(v)}, point{b.x1, y.at(v)})
		p.label(p.palette.quiet, point{b.x0 - 5, y.at(v) + 0.35*p.letter()}, right, words.OnScale(v, step))
	}
	p.label(p.palette.quiet, point{b.x0 - 5, b.y0 - 6}, left, c.unit)
	p.frameAxis(b, x, c.first, c.last)
	c.before.draw(p, x, y, p.palette.before, beforeDash)
	c.now.draw(p, x, y, p.palette.now, nil)
	p.noteNames(b, x, b.x0+p.width(c.unit)+8, notes)
}

// draw draws the curve, and its keys as dots or, behind, as rings.
func (r *curveRun) draw(p *pen, x, y scale, c colour, dash []float64) {
	pts := make([]point, len(r.at))
	for i, q := range r.at {
		pts[i] = point{x.at(q.x), y.at(q.y)}
	}
	p.line(c, 1.8, dash, pts...)
	size := 3.6
	if r.baked {
		size = 1.8
	}
	if x.p1-x.p0 < 4*float64(len(r.keys)) {
		return // dots that touch say nothing
	}
	for _, q := range r.keys {
		at := point{x.at(q.x), y.at(q.y)}
		if dash != nil {
			p.ring(c, at, size, 1.2)
			continue
		}
		p.dot(c, at, size)
	}
}
