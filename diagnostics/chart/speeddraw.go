package chart

import "slices"

func (c *speedChart) draw(p *pen, title string, o *Options) {
	passes := slices.ContainsFunc(c.lines, func(k curve) bool { return len(k.before) > 0 })
	rest := p.heading(title, false)
	names := c.nameRoom(p)
	b := box{rest.x0 + p.width("100 %") + 8, rest.y0 + p.letter() + 8, rest.x1 - names, rest.y1 - p.letter() - 5}
	x := scale{c.first, c.last, b.x0, b.x1}
	notes := notesOn(c.study, o.Notes, c.part, c.first, c.last)
	p.noteAreas(b, x, notes)
	y := c.axis(p, b)
	p.frameAxis(b, x, c.first, c.last)
	in := func(pts []point) []point {
		out := make([]point, len(pts))
		for i, q := range pts {
			out[i] = point{x.at(q.x), max(y.at(q.y), b.y0-4)}
		}
		return out
	}
	for i, k := range c.lines {
		p.line(p.palette.series[i], 1, []float64{1.5, 2.5}, in(k.before)...)
	}
	for i, k := range c.lines {
		p.line(p.palette.series[i], 2, dashes[i], in(k.now)...)
	}
	for i, k := range c.lines {
		if q := in(k.now); len(q) > 0 {
			p.dot(p.palette.series[i], point{x.at(k.peakAt), y.at(1)}, 3)
		}
	}
	c.drawNames(p, box{b.x1 + 10, b.y0, rest.x1, b.y1}, passes)
	p.noteNames(b, x, b.x0+p.width("share of peak")+8, notes)
}

// axis draws shares of the peak, from none to all.
func (c *speedChart) axis(p *pen, b box) scale {
	y := scale{0, 1, b.y1, b.y0 + 4}
	for _, v := range []float64{0, 0.5, 1} {
		p.line(p.palette.grid, 1, nil, point{b.x0, y.at(v)}, point{b.x1, y.at(v)})
		p.label(p.palette.quiet, point{b.x0 - 5, y.at(v) + 0.35*p.letter()}, right, number(100*v, 50)+" %")
	}
	p.label(p.palette.quiet, point{b.x0 - 5, b.y0 - 5}, left, "share of peak")
	return y
}

// nameRoom is the width of the names beside the lines.
func (c *speedChart) nameRoom(p *pen) float64 {
	w := 0.0
	for _, k := range c.lines {
		w = max(w, p.width(k.name)+24, p.width(k.lag)+24)
	}
	return min(w+12, p.w*0.42)
}

// drawNames writes the lines' names in their order, what each looks like, and
// by how much it is behind the first.
func (c *speedChart) drawNames(p *pen, b box, passes bool) {
	high := p.letter() + 3
	room := b.height() / float64(len(c.lines))
	y := b.y0 + high
	for i, k := range c.lines {
		mid := y - 0.35*p.letter()
		p.line(p.palette.series[i], 2, dashes[i], point{b.x0, mid}, point{b.x0 + 19, mid})
		p.label(p.palette.ink, point{b.x0 + 24, y}, left, p.fitted(k.name, b.x1-b.x0-24))
		lag := k.lag
		if i == 0 {
			lag = "leads"
		}
		if room >= 2*high || len(c.lines) == 1 {
			p.label(p.palette.quiet, point{b.x0 + 24, y + high - 1}, left, p.fitted(lag, b.x1-b.x0-24))
			y += 2*high + 3
			continue
		}
		y += high
	}
	if passes && y+2*high < b.y1+high {
		p.line(p.palette.quiet, 1, []float64{1.5, 2.5}, point{b.x0, y - 0.35*p.letter()}, point{b.x0 + 19, y - 0.35*p.letter()})
		p.label(p.palette.quiet, point{b.x0 + 24, y}, left, p.fitted(p.keys[1], b.x1-b.x0-24))
	}
}
