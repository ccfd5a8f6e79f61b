package chart

import (
	"image/color"
	"math"

	plotfont "gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
)

// colour is a colour of the palette.
type colour = color.NRGBA

// point is a place in the picture in pixels, from its top left corner.
type point struct{ x, y float64 }

// box is a part of the picture in pixels; y runs down.
type box struct{ x0, y0, x1, y1 float64 }

func (b box) width() float64  { return b.x1 - b.x0 }
func (b box) height() float64 { return b.y1 - b.y0 }

// align says where a text stands relative to its place.
type align uint8

const (
	left align = iota
	centre
	right
)

// pen draws on a canvas of one unit per pixel, whose own y runs up.
type pen struct {
	c       vg.Canvas
	palette *palette
	w, h    float64
	compact bool
	keys    [2]string // what the two passes are called
}

// letter is the size of ordinary letters in pixels.
func (p *pen) letter() float64 {
	if p.compact {
		return 10
	}
	return 12
}

func (p *pen) at(q point) vg.Point { return vg.Point{X: vg.Length(q.x), Y: vg.Length(p.h - q.y)} }

func (p *pen) path(pts []point) vg.Path {
	var path vg.Path
	for i, q := range pts {
		if i == 0 {
			path.Move(p.at(q))
		} else {
			path.Line(p.at(q))
		}
	}
	return path
}

// line draws a line through points, dashed unless dash is nil. Points closer
// together than a viewer can see are left out, so that a long shot makes no
// long file.
func (p *pen) line(c color.NRGBA, width float64, dash []float64, pts ...point) {
	pts = thinned(pts)
	if len(pts) < 2 {
		return
	}
	p.c.SetColor(c)
	p.c.SetLineWidth(vg.Length(width))
	var d []vg.Length
	for _, v := range dash {
		d = append(d, vg.Length(v))
	}
	p.c.SetLineDash(d, 0)
	p.c.Stroke(p.path(pts))
}

// strokes draws many short lines as one.
func (p *pen) strokes(c color.NRGBA, width float64, lines [][2]point) {
	if len(lines) == 0 {
		return
	}
	var path vg.Path
	for _, l := range lines {
		path.Move(p.at(l[0]))
		path.Line(p.at(l[1]))
	}
	p.c.SetColor(c)
	p.c.SetLineWidth(vg.Length(width))
	p.c.SetLineDash(nil, 0)
	p.c.Stroke(path)
}

// thinned leaves out points less than a third of a pixel from the one before,
// and what is no place at all.
func thinned(pts []point) []point {
	out := pts[:0:0]
	for i, q := range pts {
		if !finite(q.x) || !finite(q.y) {
			continue
		}
		n := len(out)
		if n > 0 && i < len(pts)-1 && math.Hypot(q.x-out[n-1].x, q.y-out[n-1].y) < 1.0/3 {
			continue
		}
		out = append(out, q)
	}
	return out
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// area fills a polygon.
func (p *pen) area(c color.NRGBA, pts ...point) {
	for _, q := range pts {
		if !finite(q.x) || !finite(q.y) {
			return
		}
	}
	path := p.path(pts)
	path.Close()
	p.c.SetColor(c)
	p.c.Fill(path)
}

// fill fills a box.
func (p *pen) fill(c color.NRGBA, b box) {
	p.area(c, point{b.x0, b.y0}, point{b.x1, b.y0}, point{b.x1, b.y1}, point{b.x0, b.y1})
}

// frame draws the outline of a box.
func (p *pen) frame(c color.NRGBA, width float64, dash []float64, b box) {
	p.line(c, width, dash, point{b.x0, b.y0}, point{b.x1, b.y0}, point{b.x1, b.y1}, point{b.x0, b.y1}, point{b.x0, b.y0})
}

func (p *pen) circle(q point, r float64) vg.Path {
	var path vg.Path
	path.Move(p.at(point{q.x + r, q.y}))
	path.Arc(p.at(q), vg.Length(r), 0, 2*math.Pi)
	path.Close()
	return path
}

// dot fills a circle.
func (p *pen) dot(c color.NRGBA, q point, r float64) {
	if finite(q.x) && finite(q.y) {
		p.c.SetColor(c)
		p.c.Fill(p.circle(q, r))
	}
}

// ring draws a hollow circle, the paper showing through nothing of what is
// beneath.
func (p *pen) ring(c color.NRGBA, q point, r, width float64) {
	if !finite(q.x) || !finite(q.y) {
		return
	}
	p.dot(p.palette.paper, q, r)
	p.c.SetColor(c)
	p.c.SetLineWidth(vg.Length(width))
	p.c.SetLineDash(nil, 0)
	p.c.Stroke(p.circle(q, r))
}

// text writes s with its base line at q.
func (p *pen) text(c color.NRGBA, f plotfont.Font, size float64, q point, a align, s string) {
	if s == "" {
		return
	}
	t := face(f, size)
	switch w := float64(t.Width(s)); a {
	case centre:
		q.x -= w / 2
	case right:
		q.x -= w
	}
	p.c.SetColor(c)
	p.c.FillString(t, p.at(q), s)
}

// label writes s in ordinary letters.
func (p *pen) label(c color.NRGBA, q point, a align, s string) {
	p.text(c, regular, p.letter(), q, a, s)
}

// width is that of s in ordinary letters.
func (p *pen) width(s string) float64 { return textWidth(regular, p.letter(), s) }

func textWidth(f plotfont.Font, size float64, s string) float64 {
	t := face(f, size)
	return float64(t.Width(s))
}

// fitted cuts s so that it is at most width pixels wide, and ends it in an
// ellipsis when something is missing.
func (p *pen) fitted(s string, width float64) string {
	if p.width(s) <= width {
		return s
	}
	r := []rune(s)
	for n := len(r) - 1; n > 0; n-- {
		if cut := string(r[:n]) + "…"; p.width(cut) <= width {
			return cut
		}
	}
	return ""
}
