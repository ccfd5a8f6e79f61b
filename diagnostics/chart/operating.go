package chart

import (
	"fmt"
	"math"

	"curvelint/diagnostics/words"
)

// Operating is how often a check is right with one value of its threshold.
type Operating struct {
	Label   string  // the value
	Right   float64 // share of flaws that are found
	Wrong   float64 // share of proper scenes that get a note as well
	Default bool    // the value that is used
}

// OperatingCurve draws a receiver-operating curve: the flaws found against the
// proper scenes noted as well, for the values of a threshold in their order,
// with the default marked. (T. Fawcett, "An introduction to ROC analysis",
// Pattern Recognition Letters 27 (2006), pages 861-874.)
func OperatingCurve(title string, values []Operating, o Options) ([]byte, error) {
	if len(values) < 2 {
		return nil, fmt.Errorf("a curve needs two values of the threshold, found %d", len(values))
	}
	o = o.settled()
	c := operatingChart{values}
	return picture(o, caption{title, c.describe()}, func(p *pen) { c.draw(p, title) })
}

type operatingChart struct{ values []Operating }

func (c *operatingChart) describe() string {
	for _, v := range c.values {
		if v.Default {
			return fmt.Sprintf("With the default of %s, %s of the flaws are found and %s of the proper scenes get a note.", v.Label, words.Percent(v.Right), words.Percent(v.Wrong))
		}
	}
	return words.Count(len(c.values), "value") + " of the threshold."
}

func (c *operatingChart) draw(p *pen, title string) {
	rest := p.heading(title, false)
	most := 0.1
	for _, v := range c.values {
		most = max(most, v.Wrong)
	}
	b := box{rest.x0, rest.y0 + p.letter() + 8, rest.x1 - 10, rest.y1 - p.letter() - 5}
	b.x0 += p.axisRoom(100, b.height())
	y := p.valueAxis(b, 100, "% of flaws found")
	x := c.wrongAxis(p, b, 100*most)
	var pts []point
	for _, v := range c.values {
		pts = append(pts, point{x.at(100 * v.Wrong), y.at(100 * v.Right)})
	}
	p.line(p.palette.now, 1.8, nil, pts...)
	c.points(p, b, pts)
}

// wrongAxis draws the share of proper scenes below a box.
func (c *operatingChart) wrongAxis(p *pen, b box, most float64) scale {
	step := niceStep(most, 8)
	top := math.Ceil(most/step-1e-9) * step
	x := scale{0, top, b.x0, b.x1}
	name := "% of proper scenes noted"
	end, base := b.x1-p.width(name), b.y1+p.letter()+3
	for v := 0.0; v <= top*(1+1e-9); v += step {
		at := x.at(v)
		p.line(p.palette.grid, 1, nil, point{at, b.y0}, point{at, b.y1})
		if at+p.width(words.OnScale(v, step))/2 < end-4 {
			p.label(p.palette.quiet, point{at, base}, centre, words.OnScale(v, step))
		}
	}
	p.line(p.palette.quiet, 1, nil, point{b.x0, b.y1}, point{b.x1, b.y1})
	p.label(p.palette.quiet, point{b.x1, base}, right, name)
	return x
}

// points marks the values, and names those that have room; the default always.
// Values that do equally well share a name.
func (c *operatingChart) points(p *pen, b box, pts []point) {
	taken := []box{{b.x0, b.y0 - 2*p.letter(), b.x1, b.y0}} // the unit
	for _, q := range pts {
		taken = append(taken, box{q.x - 4, q.y - 4, q.x + 4, q.y + 4})
	}
	name := func(q point, s string, ink colour) {
		w, h := p.width(s), p.letter()
		for _, at := range []point{{q.x + 12, q.y + h + 4}, {q.x + 12, q.y - 6}, {q.x - w/2, q.y + h + 8}, {q.x - w - 8, q.y - 6}, {q.x - w - 8, q.y + h + 4}} {
			place := box{at.x - 2, at.y - h, at.x + w + 2, at.y + 2}
			if place.x0 < b.x0 || place.x1 > b.x1+8 || place.y1 > b.y1 || overlapping(place, taken) {
				continue
			}
			p.label(ink, at, left, s)
			taken = append(taken, place)
			return
		}
	}
	for i, v := range c.values {
		if v.Default {
			p.ring(p.palette.before, pts[i], 8, 2)
			p.dot(p.palette.now, pts[i], 4)
			name(pts[i], "default "+v.Label, p.palette.ink)
		}
	}
	for i := 0; i < len(pts); {
		end, marked := i, false
		for ; end < len(pts) && pts[end] == pts[i]; end++ {
			marked = marked || c.values[end].Default
		}
		s := c.values[i].Label
		if end > i+1 {
			s += " to " + c.values[end-1].Label
		}
		if !marked {
			p.dot(p.palette.now, pts[i], 3)
		}
		if !marked || end > i+1 {
			name(pts[i], s, p.palette.quiet)
		}
		i = end
	}
}

func overlapping(b box, others []box) bool {
	for _, o := range others {
		if b.x0 < o.x1 && o.x0 < b.x1 && b.y0 < o.y1 && o.y0 < b.y1 {
			return true
		}
	}
	return false
}
