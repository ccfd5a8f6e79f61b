package write

import (
	"io"
	"math"

	"curvelint/cmd/lab/designed"
)

// USDASparse writes a take like USDA but leaves out every time sample that lies
// on the straight line between those that stay, to within half a unit in the
// last decimal: holds and even stretches are two samples.
func USDASparse(w io.Writer, t *designed.Take) error {
	u := newUSDA(w, t)
	u.samples = (*usda).sparse
	u.header()
	for _, root := range t.Shot.Roots() {
		u.prim(root)
	}
	return u.close()
}

func (u *usda) sparse(attr string, width int, at func(f, c int) float64, decimals int) {
	keep := make([]bool, u.t.N)
	keep[0], keep[u.t.N-1] = true, true
	straighten(keep, 0, u.t.N-1, width, at, 0.5*math.Pow(10, -float64(decimals)))
	u.line(attr, ".timeSamples = {")
	u.depth++
	for f := range keep {
		if keep[f] {
			u.sample(f, width, at, decimals)
		}
	}
	u.shut()
}

// straighten marks in keep the frames between a and b that must stay so that
// straight lines between those that stay miss nothing by more than tolerance
// (the method of D. Douglas and T. Peucker, 1973).
func straighten(keep []bool, a, b, width int, at func(f, c int) float64, tolerance float64) {
	worst, where := tolerance, -1
	for f := a + 1; f < b; f++ {
		s := float64(f-a) / float64(b-a)
		for c := range width {
			if d := math.Abs(at(f, c) - at(a, c)*(1-s) - at(b, c)*s); d > worst {
				worst, where = d, f
			}
		}
	}
	if where < 0 {
		return
	}
	keep[where] = true
	straighten(keep, a, where, width, at, tolerance)
	straighten(keep, where, b, width, at, tolerance)
}
