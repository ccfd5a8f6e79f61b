package chart

// margin is the empty edge of a chart in pixels.
func (p *pen) margin() float64 {
	if p.compact {
		return 7
	}
	return 14
}

// heading writes the chart's title with the key to its lines beside it, and
// returns what is left of the picture.
func (p *pen) heading(title string, passes bool) box {
	m := p.margin()
	size := p.letter() + 2
	y := m + size - 2
	room := p.w - 2*m
	if passes {
		room -= p.key(y)
	}
	for textWidth(bold, size, title) > room && size > p.letter()-1 {
		size--
	}
	r := []rune(title)
	for n := len(r); textWidth(bold, size, title) > room && n > 1; n-- {
		title = string(r[:n]) + "…"
	}
	p.text(p.palette.ink, bold, size, point{m, y}, left, title)
	return box{m, y + 6, p.w - m, p.h - m}
}

// key tells the two passes apart, at the right of a line, and returns its width.
func (p *pen) key(y float64) float64 {
	m, mid := p.margin(), y-0.35*p.letter()
	x := p.w - m
	start := x
	p.label(p.palette.ink, point{x, y}, right, p.keys[1])
	x -= p.width(p.keys[1]) + 4
	p.line(p.palette.before, 1.8, beforeDash, point{x - 18, mid}, point{x, mid})
	x -= 18 + 8
	p.label(p.palette.ink, point{x, y}, right, p.keys[0])
	x -= p.width(p.keys[0]) + 4
	p.fill(p.palette.now, box{x - 12, mid - 4, x, mid + 4})
	return start - x + 12 + 8
}
