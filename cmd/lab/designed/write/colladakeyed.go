package write

import (
	"io"
	"math"
	"strconv"
	"strings"

	"curvelint/cmd/lab/designed"
)

// COLLADAKeyed is COLLADA with Bezier curves for the turns, one an axis, on few keys
// with keys and handles of their own, as an animator would set them. It passes
// within 1 % of every turn's range of the designed motion. Moves keep a key a frame.
func COLLADAKeyed(w io.Writer, t *designed.Take) error {
	c := newCollada(w, t)
	c.between = t.Shot.TakeBetween(t.Rate, fine)
	return c.write()
}

// keyedTurn writes the sources and the sampler of one axis of a part's turn.
func (c *collada) keyedTurn(i, axis int, sid string) {
	angles := c.between.Angles(i, designed.OrderZYX, false)
	at := func(f int) float64 { return angles[f][axis] }
	decimals := c.t.AngleDecimals() + 1
	var knots []int
	f := fitSpline(c.t, at, splineTolerance, math.Pow10(-decimals), keyedShare, c.t.Shot.Parts[i].Knots[axis])
	if f == nil { // it does not change
		f = &splineFit{at: func(int) float64 { return at(0) }, keep: make([]bool, c.t.N), in: make([]float64, c.t.N), out: make([]float64, c.t.N)}
		f.keep[0] = true
	}
	for k, kept := range f.keep {
		if kept {
			knots = append(knots, k)
		}
	}
	id, n := c.ids[i]+"-"+sid, len(knots)
	c.floats(id+"-time", n, 1, []string{"TIME"}, func(k, _ int) { c.number(c.t.Time(knots[k]), 7) })
	c.floats(id, n, 1, []string{"ANGLE"}, func(k, _ int) { c.number(at(knots[k]*fine), decimals) })
	c.floats(id+"-in", n, 2, []string{"X", "Y"}, func(k, m int) {
		if k == 0 {
			c.handle(at, knots[0], 0, 0, m)
			return
		}
		_, slope := f.slopes(knots[k-1], knots[k])
		c.handle(at, knots[k], -f.in[knots[k]], slope, m)
	})
	c.floats(id+"-out", n, 2, []string{"X", "Y"}, func(k, m int) {
		if k == n-1 {
			c.handle(at, knots[k], 0, 0, m)
			return
		}
		slope, _ := f.slopes(knots[k], knots[k+1])
		c.handle(at, knots[k], f.out[knots[k]], slope, m)
	})
	c.methods(id+"-interpolation", "BEZIER", n)
	c.tag(`<sampler id="`, id, `-sampler">`)
	for _, in := range [...][2]string{{"INPUT", "-time"}, {"OUTPUT", ""}, {"IN_TANGENT", "-in"}, {"OUT_TANGENT", "-out"}, {"INTERPOLATION", "-interpolation"}} {
		c.line(`<input semantic="`, in[0], `" source="#`, id, in[1], `"/>`)
	}
	c.untag("sampler")
}

// handle writes the time or the value of a control point width frames from a knot.
func (c *collada) handle(at func(f int) float64, knot int, width, slope float64, member int) {
	if member == 0 {
		c.number(c.t.Time(knot)+width/c.t.Rate, 9)
		return
	}
	c.number(at(knot*fine)+slope*width, c.t.AngleDecimals()+3)
}

// methods writes a source of n times one name of interpolation.
func (c *collada) methods(id, name string, n int) {
	c.tag(`<source id="`, id, `">`)
	c.line(`<Name_array id="`, id, `-array" count="`, strconv.Itoa(n), `">`,
		strings.TrimSuffix(strings.Repeat(name+" ", n), " "), "</Name_array>")
	c.accessor(id, n, 1, []string{"INTERPOLATION"}, "name")
	c.untag("source")
}
