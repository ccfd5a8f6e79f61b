package write

import (
	"math"

	"curvelint/cmd/lab/designed"
)

// splineFit chooses the whole frames of a curve that get a knot, and the widths
// of their tangents.
type splineFit struct {
	at        func(f int) float64 // the curve, fine columns a frame
	tolerance float64
	unit      float64   // in multiples of which it is printed
	widths    []float64 // handle widths to try, as shares of a segment

	flat bool // extremes get level tangents, so that nothing overshoots them

	keep    []bool    // by frame: it has a knot
	in, out []float64 // by knot: the widths of its tangents in frames
}

// thirds is what Hermite splines have.
var thirds = []float64{1. / 3}

// handles are the widths that an animator's handles have.
var handles = []float64{1. / 3, 0.22, 0.28, 0.4, 0.45, 0.5, 0.52}

// fitSpline makes the knots of a curve of a take that is printed in multiples of
// unit, nil for one that does not change. It may be off by tolerance, or by a share
// of its range where there is one; knots, if not nil, are the seconds of its keys.
func fitSpline(t *designed.Take, at func(f int) float64, tolerance, unit, share float64, knots []float64) *splineFit {
	n := t.N
	lo, hi := at(0), at(0)
	for f := range n {
		lo, hi = min(lo, at(f*fine)), max(hi, at(f*fine))
	}
	if n < 2 || hi-lo < 1e-9 {
		return nil
	}
	f := &splineFit{at: at, tolerance: tolerance, unit: unit, widths: thirds, keep: make([]bool, n), in: make([]float64, n), out: make([]float64, n)}
	if share > 0 {
		f.tolerance, f.widths, f.flat = max(tolerance, share*(hi-lo)), handles, true
	}
	if knots != nil {
		f.keyed(knots, t.Rate)
		return f
	}
	f.seed()
	last := 0
	for k := 1; k < n; k++ {
		if f.keep[k] {
			f.bend(last, k)
			last = k
		}
	}
	f.thin()
	return f
}

// keyed puts knots at the frames of the given times and at both ends.
func (f *splineFit) keyed(times []float64, rate float64) {
	n := len(f.keep)
	f.keep[0], f.keep[n-1] = true, true
	for _, t := range times {
		f.keep[max(0, min(n-1, int(math.Round(t*rate))))] = true
	}
	last := 0
	for k := 1; k < n; k++ {
		if f.keep[k] {
			f.out[last], f.in[k] = float64(k-last)/3, float64(k-last)/3
			last = k
		}
	}
}

// seed puts knots where rest turns into motion and back, and at extremes that
// matter.
func (f *splineFit) seed() {
	n := len(f.keep)
	f.keep[0], f.keep[n-1] = true, true
	level := f.at(0)
	for k := 1; k < n-1; k++ {
		here := f.at(k * fine)
		before, after := here-f.at((k-1)*fine), f.at((k+1)*fine)-here
		const still = 1e-9
		switch {
		case (math.Abs(before) < still) != (math.Abs(after) < still),
			before*after < 0 && math.Abs(here-level) > f.tolerance:
			f.keep[k], level = true, here
		}
	}
}

// sameDigits is how many units two segments may be apart that are the same.
const sameDigits = 4

// thin drops the knots whose two segments one segment draws as well, by a few
// units at most: what seed saw in a change too small to be printed, and what bend
// put where the curve happens to be a cubic. Extremes stay: an animator keys them
// even where handles alone would do.
func (f *splineFit) thin() {
	a := 0
	for k := 1; k < len(f.keep)-1; k++ {
		if !f.keep[k] {
			continue
		}
		b := k + 1
		for !f.keep[b] {
			b++
		}
		if u, v, ok := f.needless(a, k, b); ok && !f.extreme(a, k, b) {
			f.keep[k] = false
			f.widen(a, b, u, v)
			continue
		}
		a = k
	}
}

// needless reports whether one segment from frame a to b goes where those that meet
// at frame k go, and with handles of which widths.
func (f *splineFit) needless(a, k, b int) (u, v float64, ok bool) {
	left := f.segment(a, k, f.out[a]/float64(k-a), f.in[k]/float64(k-a))
	right := f.segment(k, b, f.out[k]/float64(b-k), f.in[b]/float64(b-k))
	for _, u := range f.widths {
		for _, v := range f.widths {
			one := f.segment(a, b, u, v)
			same := true
			for x := float64(a) + 0.5; x < float64(b) && same; x += 0.5 {
				two := left
				if x > float64(k) {
					two = right
				}
				same = math.Abs(one.at(x)-two.at(x)) <= sameDigits*f.unit
			}
			if same {
				return u, v, true
			}
		}
	}
	return 0, 0, false
}

// extreme reports whether the curve at frame k lies outside what it is at frames
// a and b by more than a unit.
func (f *splineFit) extreme(a, k, b int) bool {
	va, v, vb := f.at(a*fine), f.at(k*fine), f.at(b*fine)
	return v > max(va, vb)+f.unit || v < min(va, vb)-f.unit
}

// slopes are those of the segment between knots at frames a and b: level in a
// hold, where a slope too small to be seen would lift a long handle.
func (f *splineFit) slopes(a, b int) (out, in float64) {
	v, still := f.at(a*fine), true
	for k := a + 1; k <= b && still; k++ {
		still = math.Abs(f.at(k*fine)-v) <= f.unit
	}
	if still {
		return 0, 0
	}
	return f.slope(a, 1), f.slope(b, -1)
}

// slope is the change per frame at frame k, seen from the side dir (-1 or 1),
// exact for parabolas.
func (f *splineFit) slope(k, dir int) float64 {
	c := k * fine
	if f.flat && k > 0 && k+1 < len(f.keep) && (f.at(c)-f.at(c-fine))*(f.at(c+fine)-f.at(c)) < 0 {
		return 0
	}
	return float64(dir) * fine * (4*f.at(c+dir) - f.at(c+2*dir) - 3*f.at(c)) / 2
}

// bend chooses the handles between the knots at frames a and b, and puts a knot
// between them where no handles are near enough.
func (f *splineFit) bend(a, b int) {
	best, where, u, v := f.nearest(a, b)
	if best <= f.tolerance || where < 0 {
		f.widen(a, b, u, v)
		return
	}
	f.keep[where] = true
	f.bend(a, where)
	f.bend(where, b)
}

// widen gives the knots at frames a and b the handles of one segment between
// them, of widths u and v in shares of it.
func (f *splineFit) widen(a, b int, u, v float64) {
	f.out[a], f.in[b] = u*float64(b-a), v*float64(b-a)
}

// nearest returns the widths of handles with which the segment from frame a to b
// passes nearest to the curve, how far off it is at most and at which frame.
func (f *splineFit) nearest(a, b int) (best float64, where int, u, v float64) {
	best, where = math.Inf(1), -1
	for _, x := range f.widths {
		for _, y := range f.widths {
			e, at := f.miss(a, b, x, y)
			if e < best*0.98 {
				best, where, u, v = e, at, x, y
			}
			if best <= f.tolerance/4 {
				return best, where, u, v
			}
		}
	}
	return best, where, u, v
}

// miss is how far the Bezier segment from frame a to b with handles of widths u
// and v, shares of its length, passes from the curve at the worst whole frame
// between, and which that is.
func (f *splineFit) miss(a, b int, u, v float64) (worst float64, where int) {
	where = -1
	g := f.segment(a, b, u, v)
	for k := a + 1; k < b; k++ {
		if e := math.Abs(g.at(float64(k)) - f.at(k*fine)); e >= worst {
			worst, where = e, k
		}
	}
	return worst, where
}

// segment is a Bezier segment between two frames, with its control values and the
// widths of its handles in shares of its length.
type segment struct {
	a, b           float64
	va, pa, pb, vb float64
	u, v           float64
}

func (f *splineFit) segment(a, b int, u, v float64) segment {
	d := float64(b - a)
	va, vb := f.at(a*fine), f.at(b*fine)
	sa, sb := f.slopes(a, b)
	return segment{float64(a), float64(b), va, va + sa*u*d, vb - sb*v*d, vb, u, v}
}

// at is the value at a frame or between two.
func (g *segment) at(frame float64) float64 {
	s := bezierAt((frame-g.a)/(g.b-g.a), g.u, g.v)
	r := 1 - s
	return r*r*r*g.va + 3*r*r*s*g.pa + 3*r*s*s*g.pb + s*s*s*g.vb
}

// bezierAt is the parameter at which the time polynomial with control points 0,
// u, 1-v, 1 is x, by bisection; it is monotone for the widths used here.
func bezierAt(x, u, v float64) float64 {
	lo, hi := 0.0, 1.0
	for range 40 {
		s := (lo + hi) / 2
		r := 1 - s
		if 3*r*r*s*u+3*r*s*s*(1-v)+s*s*s < x {
			lo = s
		} else {
			hi = s
		}
	}
	return (lo + hi) / 2
}
