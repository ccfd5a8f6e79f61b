package chart

import (
	"slices"

	"curvelint/diagnostics/words"
)

func (c *speedChart) draw(p *pen, title string, o *Options) {
	passes := slices.ContainsFunc(c.lines, func(k curve) bool { return len(k.before) > 0 })
	rest := p.heading(title, false)
	names := c.nameRoom(p)
	b := box{rest.x0 + p.width("100 %") + 8, rest.y0 + p.letter() + 8, rest.x1 - names, rest.y1 - p.letter() - 5}
	x := scale{c.first, c.last, b.x0, b.x1}
	notes := notesOn(c.study, o.Notes, c.part, c.first, c.last)
	p.noteAreas(b, x, notes)
	p.frameAxis(b, x, c.first, c.last)
	lanes := c.lanes(p, b)
	in := func(i int, pts []point) []point {
		out := make([]point, len(pts))
		for j, q := range pts {
			out[j] = point{x.at(q.x), max(lanes[i].at(q.y), lanes[i].p1-4)}
		}
		return out
	}
	for i, k := range c.lines {
		p.line(p.palette.series[i], 1, []float64{1.5, 2.5}, in(i, k.before)...)
	}
	for i, k := range c.lines {
		if c.crowded(b) {
			p.line(p.palette.series[i], 1, nil, in(i, k.now)...)
			continue
		}
		p.line(p.palette.series[i], 2, dashes[i], in(i, k.now)...)
	}
	for i, k := range c.lines {
		if len(k.now) > 0 {
			p.dot(p.palette.series[i], point{x.at(k.peakAt), lanes[i].at(1)}, 3)
		}
	}
	if c.crowded(b) {
		c.nameLanes(p, box{b.x1 + 10, b.y0, rest.x1, b.y1}, lanes)
		p.noteNames(b, x, b.x0+p.width("share of peak")+8, notes)
		return
	}
	c.drawNames(p, box{b.x1 + 10, b.y0, rest.x1, b.y1}, passes)
	p.noteNames(b, x, b.x0+p.width("share of peak")+8, notes)
}

// crowded reports whether the lines would hide each other: then each has a lane
// of its own.
func (c *speedChart) crowded(b box) bool { return c.last-c.first > 0.6*b.width() && len(c.lines) > 1 }

// lanes draws shares of the peak, from none to all, and returns the scale of each
// line.
func (c *speedChart) lanes(p *pen, b box) []scale {
	out := make([]scale, len(c.lines))
	p.label(p.palette.quiet, point{b.x0 - 5, b.y0 - 5}, left, "share of peak")
	if !c.crowded(b) {
		y := scale{0, 1, b.y1, b.y0 + 4}
		for i := range out {
			out[i] = y
		}
		for _, v := range []float64{0, 0.5, 1} {
			p.level(b, y, v, words.OnScale(100*v, 50)+" %")
		}
		return out
	}
	high := (b.height() - 4) / float64(len(out))
	for i := range out {
		top := b.y0 + 4 + high*float64(i)
		out[i] = scale{0, 1, top + high - 3, top + 2}
		p.level(b, out[i], 0, "")
		if high > 1.6*p.letter() {
			p.level(b, out[i], 1, "100 %")
		}
	}
	return out
}

// level draws a line across a box at a value, and its name left of it.
func (p *pen) level(b box, y scale, v float64, name string) {
	p.line(p.palette.grid, 1, nil, point{b.x0, y.at(v)}, point{b.x1, y.at(v)})
	p.label(p.palette.quiet, point{b.x0 - 5, y.at(v) + 0.35*p.letter()}, right, name)
}

// nameLanes writes the lines' names beside their lanes.
func (c *speedChart) nameLanes(p *pen, b box, lanes []scale) {
	for i, k := range c.lines {
		mid := (lanes[i].p0 + lanes[i].p1) / 2
		lag := k.lag
		if i == 0 {
			lag = "leads"
		}
		if lanes[i].p0-lanes[i].p1 < 2.2*p.letter() {
			p.label(p.palette.ink, point{b.x0, mid + 0.35*p.letter()}, left, p.fitted(k.name, b.width()))
			continue
		}
		p.label(p.palette.ink, point{b.x0, mid - 2}, left, p.fitted(k.name, b.width()))
		p.label(p.palette.quiet, point{b.x0, mid + p.letter()}, left, p.fitted(lag, b.width()))
	}
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
