package track

import "math"

// stepSet says of each step from frame index i to i+1 whether something moves in
// it: bit i%64 of element i/64. Bits beyond the last step are 0.
type stepSet []uint64

func newStepSet(n int) stepSet { return make(stepSet, (n+63)/64) }

// allOf reports whether something moves in each of n steps.
func (m stepSet) allOf(n int) bool {
	for i, w := range m {
		if w != lowest(n-64*i) {
			return false
		}
	}
	return true
}

// lowest has the lowest n bits set, all for n >= 64.
func lowest(n int) uint64 {
	if n >= 64 {
		return ^uint64(0)
	}
	return 1<<n - 1
}

// addTo marks in moved the steps in which something moves.
func (m stepSet) addTo(moved []bool) {
	for i, w := range m[:min(len(m), (len(moved)+63)/64)] {
		part := moved[64*i : min(64*i+64, len(moved))]
		switch w {
		case 0:
		case lowest(len(part)):
			for j := range part {
				part[j] = true
			}
		default:
			for j := range part {
				part[j] = part[j] || w>>j&1 != 0
			}
		}
	}
}

// movedSteps returns the steps in which the track changes by more than twice its
// noise; without noise, by more than rounding can. It is computed once.
func (t *Track) movedSteps() stepSet {
	if m := t.moved.Load(); m != nil {
		return *m
	}
	m := newStepSet(max(t.Len()-1, 0))
	t.measureSteps(m, nil)
	t.moved.CompareAndSwap(nil, &m)
	return m
}

// movesWithin returns element i of movedSteps, without finding the others.
func (t *Track) movesWithin(i int) uint64 {
	if m := t.moved.Load(); m != nil {
		return (*m)[i]
	}
	limit := t.StillLimit()
	return t.measureBlock(i, nil, limit*limit)
}

// measureSteps finds the steps in which the track moves and, where spacing has
// Len()-1 elements, their lengths.
func (t *Track) measureSteps(moves stepSet, spacing []float64) {
	limit := t.StillLimit()
	limit *= limit
	for i := range moves {
		var to []float64
		if spacing != nil {
			to = spacing[64*i : min(64*i+64, len(spacing))]
		}
		moves[i] = t.measureBlock(i, to, limit)
	}
}

// measureBlock is measureSteps for element i alone; to has the room for its
// spacings or none.
func (t *Track) measureBlock(i int, to []float64, limit float64) (moves uint64) {
	a, b := 64*i, min(64*i+65, len(t.X))
	x, y, z := t.X[a:b], t.Y[a:b], t.Z[a:b]
	x0, y0, z0 := x[0], y[0], z[0]
	x, y, z = x[1:], y[1:], z[1:]
	y, z = y[:len(x)], z[:len(x)]
	for i := range x {
		x1, y1, z1 := x[i], y[i], z[i]
		dx, dy, dz := x1-x0, y1-y0, z1-z0
		square := dx*dx + dy*dy + dz*dz
		if square > limit {
			moves |= 1 << i
		}
		if i < len(to) {
			to[i] = math.Sqrt(square)
		}
		x0, y0, z0 = x1, y1, z1
	}
	return moves
}
