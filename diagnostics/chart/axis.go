package chart

import (
	"math"

	"curvelint/diagnostics/words"
)

// scale maps values to pixels: v0 lies at p0 and v1 at p1.
type scale struct{ v0, v1, p0, p1 float64 }

func (s scale) at(v float64) float64 {
	if s.v1 == s.v0 {
		return s.p0
	}
	return s.p0 + (v-s.v0)/(s.v1-s.v0)*(s.p1-s.p0)
}

// niceStep returns the smallest of 1, 2 and 5 times a power of ten that divides
// span into at most n steps.
//
// P. S. Heckbert, "Nice numbers for graph labels", Graphics Gems (1990), pages
// 61-63.
func niceStep(span float64, n int) float64 {
	if !(span > 0) || !finite(span) {
		return 1
	}
	base := math.Pow(10, math.Floor(math.Log10(span/float64(n))))
	for _, k := range []float64{1, 2, 5} {
		if span/(k*base) <= float64(n)*(1+1e-9) {
			return k * base
		}
	}
	return 10 * base
}

// frameAxis draws the frames below a box, with lines up through it, and says
// what the numbers are.
func (p *pen) frameAxis(b box, x scale, first, last float64) {
	wide := p.width(words.Frame(last)) + 14
	n := max(2, int(b.width()/wide))
	step := max(1, niceStep(last-first, n))
	y := b.y1 + p.letter() + 3
	name := "frame"
	end := b.x1 - p.width(name)
	for f := math.Ceil(first/step) * step; f <= last; f += step {
		at := x.at(f)
		p.line(p.palette.grid, 1, nil, point{at, b.y0}, point{at, b.y1})
		p.line(p.palette.quiet, 1, nil, point{at, b.y1}, point{at, b.y1 + 3})
		if half := p.width(words.Frame(f)) / 2; at+half < end-4 {
			p.label(p.palette.quiet, point{at, y}, centre, words.Frame(f))
		}
	}
	p.line(p.palette.quiet, 1, nil, point{b.x0, b.y1}, point{b.x1, b.y1})
	p.label(p.palette.quiet, point{b.x1, y}, right, name)
}

// valueAxis draws the values left of a box from 0 to most, and returns their
// scale. The unit stands over them.
func (p *pen) valueAxis(b box, most float64, unit string) scale {
	if !(most > 0) {
		most = 1
	}
	step := niceStep(most, max(2, int(b.height()/(2.2*p.letter()))))
	top := math.Ceil(most/step-1e-9) * step
	y := scale{0, top, b.y1, b.y0}
	for i := 0; float64(i)*step <= top*(1+1e-9); i++ {
		v := float64(i) * step
		at := y.at(v)
		p.line(p.palette.grid, 1, nil, point{b.x0, at}, point{b.x1, at})
		p.label(p.palette.quiet, point{b.x0 - 5, at + 0.35*p.letter()}, right, words.OnScale(v, step))
	}
	p.label(p.palette.quiet, point{b.x0, b.y0 - 6}, left, unit)
	return y
}

// axisRoom is the room that values up to most need left of a box.
func (p *pen) axisRoom(most float64, height float64) float64 {
	step := niceStep(most, max(2, int(height/(2.2*p.letter()))))
	return p.width(words.OnScale(math.Ceil(most/step)*step, step)) + 14
}
