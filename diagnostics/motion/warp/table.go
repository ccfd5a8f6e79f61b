package warp

import (
	"math"
	"slices"
)

// wayTable remembers the way into every cell of a part of the cost table: of
// row i, from column first[i] on, in ways[start[i]:start[i+1]].
type wayTable struct {
	first, start []int
	ways         []byte
}

// row begins a row of n cells from column first on.
func (t *wayTable) row(first, n int) []byte {
	at := len(t.ways)
	t.first, t.start = append(t.first, first), append(t.start, at)
	t.ways = t.ways[:at+n]
	return t.ways[at:]
}

// forward fills the costs from cell (i0, j0) to all cells of row i1 between
// columns j0 and j1, Inf outside the band, and returns that row, indexed by
// column. The table, when not nil, is told the way into every cell.
func (w *warper) forward(i0, i1, j0, j1 int, table *wayTable) []float64 {
	before, now := w.rows[0], w.rows[1]
	fill(before[j0:j1+1], math.Inf(1))
	for i := i0; i <= i1; i++ {
		first, last := w.span(i, j0, j1)
		fill(now[j0:j1+1], math.Inf(1))
		var ways []byte
		if table != nil {
			ways = table.row(first, max(0, last-first+1))
		}
		for j := first; j <= last; j++ {
			best, way := before[j], alongA
			if j > j0 {
				if before[j-1] <= best {
					best, way = before[j-1], alongBoth
				}
				if now[j-1] < best {
					best, way = now[j-1], alongB
				}
			}
			if i == i0 && j == j0 {
				best, way = 0, alongBoth
			}
			now[j] = best + w.distance(i, j)
			if ways != nil {
				ways[j-first] = way
			}
		}
		before, now = now, before
	}
	return before
}

// backward returns the costs from all cells of row i0 between columns j0 and j1
// to cell (i1, j1), indexed by column, Inf outside the band.
func (w *warper) backward(i0, i1, j0, j1 int) []float64 {
	after, now := w.rows[0], w.rows[1]
	fill(after[j0:j1+1], math.Inf(1))
	for i := i1; i >= i0; i-- {
		first, last := w.span(i, j0, j1)
		fill(now[j0:j1+1], math.Inf(1))
		for j := last; j >= first; j-- {
			best := after[j]
			if j < j1 {
				best = min(best, after[j+1], now[j+1])
			}
			if i == i1 && j == j1 {
				best = 0
			}
			now[j] = best + w.distance(i, j)
		}
		after, now = now, after
	}
	return after
}

func fill(x []float64, v float64) {
	for i := range x {
		x[i] = v
	}
}

// solve appends the path from cell (i0, j0) to (i1, j1): straight from the table
// where it is small enough, else from those of its two halves.
func (w *warper) solve(i0, i1, j0, j1 int) {
	cells := 0
	for i := i0; i <= i1 && (cells <= w.cells || i0 == i1); i++ {
		first, last := w.span(i, j0, j1)
		cells += max(0, last-first+1)
	}
	if cells <= w.cells || i0 == i1 {
		w.trace(i0, i1, j0, j1, cells)
		return
	}
	mid := (i0 + i1) / 2
	if w.forwards == nil {
		w.forwards = make([]float64, w.m)
	}
	copy(w.forwards[j0:j1+1], w.forward(i0, mid, j0, j1, nil)[j0:j1+1])
	back := w.backward(mid+1, i1, j0, j1)
	best, end, next := math.Inf(1), j0, j0
	for j := j0; j <= j1; j++ {
		if j < j1 && w.forwards[j]+back[j+1] < best {
			best, end, next = w.forwards[j]+back[j+1], j, j+1
		}
		if w.forwards[j]+back[j] < best {
			best, end, next = w.forwards[j]+back[j], j, j
		}
	}
	w.solve(i0, mid, j0, end)
	w.solve(mid+1, i1, next, j1)
}

// trace appends the path from cell (i0, j0) to (i1, j1) by walking back through
// the table, which has the given number of cells.
func (w *warper) trace(i0, i1, j0, j1, cells int) {
	rows := i1 - i0 + 1
	t := &wayTable{first: make([]int, 0, rows), start: make([]int, 0, rows), ways: make([]byte, 0, cells)}
	w.forward(i0, i1, j0, j1, t)
	from := len(w.path)
	for i, j := i1, j1; ; {
		w.path = append(w.path, Pair{i, j})
		if i == i0 && j == j0 {
			break
		}
		way := alongB
		switch {
		case i > i0 && j > j0:
			way = t.ways[t.start[i-i0]+j-t.first[i-i0]]
		case i > i0:
			way = alongA
		}
		if way != alongB {
			i--
		}
		if way != alongA {
			j--
		}
	}
	slices.Reverse(w.path[from:])
}
