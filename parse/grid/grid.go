// Package grid keeps numbers that stand in rows, a row a frame, as columns
// with their places in the file: what the line-by-line formats share.
package grid

import (
	"math"
	"sort"

	"curvelint/parse/scene"
	"curvelint/parse/text"
)

// Grid holds the numbers of so many rows and columns. It is dense, and may
// then be filled by several goroutines, each for rows of its own; or sparse,
// when the file has far fewer numbers than rows times columns.
type Grid struct {
	Rows, Cols int
	// Values and Spans have the number of row r and column c at c*Rows+r. A
	// span is the offset of the number's first byte; 0, where no number of a
	// row can be, marks one that is missing or broken. Both are nil in a
	// sparse grid.
	Values []float64
	Spans  []uint32
	// Decimals is the largest number of printed decimals in each column.
	Decimals []int
	// Gaps is true when some span of a dense grid is 0.
	Gaps bool

	sparse []keys
}

// keys are the numbers of one column of a sparse grid.
type keys struct {
	rows   []uint32
	values []float64
	spans  []uint32
}

// New returns a grid for a text that can hold at most the given count of
// numbers. Memory is made for that many, not for what a header claims: when
// the rows cannot all be full, the grid is sparse.
func New(rows, cols, most int) *Grid {
	g := &Grid{Rows: rows, Cols: cols, Decimals: make([]int, cols)}
	if cols > 0 && rows > most/cols {
		g.sparse = make([]keys, cols)
		return g
	}
	g.Values = make([]float64, rows*cols)
	g.Spans = make([]uint32, rows*cols)
	return g
}

// Sparse reports whether the grid is filled by Append.
func (g *Grid) Sparse() bool { return g.sparse != nil }

// Append moves the numbers of the first columns of line, a dense grid of one
// row, into row r of a sparse grid. Rows come in ascending order.
func (g *Grid) Append(r int, line *Grid, columns int) {
	for c := range columns {
		if line.Spans[c] == 0 {
			continue
		}
		k := &g.sparse[c]
		k.rows = append(k.rows, uint32(r))
		k.values = append(k.values, line.Values[c])
		k.spans = append(k.spans, line.Spans[c])
		line.Spans[c] = 0
	}
}

// find returns where row r stands in column c of a sparse grid.
func (g *Grid) find(r, c int) (int, bool) {
	rows := g.sparse[c].rows
	i := sort.Search(len(rows), func(i int) bool { return int(rows[i]) >= r })
	return i, i < len(rows) && int(rows[i]) == r
}

// At returns the number of row r and column c and its offset; ok is false
// where there is none.
func (g *Grid) At(r, c int) (v float64, start int, ok bool) {
	if r < 0 || r >= g.Rows {
		return 0, 0, false
	}
	if g.Sparse() {
		i, ok := g.find(r, c)
		if !ok {
			return 0, 0, false
		}
		return g.sparse[c].values[i], int(g.sparse[c].spans[i]), true
	}
	i := c*g.Rows + r
	return g.Values[i], int(g.Spans[i]), g.Spans[i] != 0
}

// Drop leaves out the number of row r and column c.
func (g *Grid) Drop(r, c int) {
	if !g.Sparse() {
		g.Spans[c*g.Rows+r] = 0
		g.Gaps = true
		return
	}
	if i, ok := g.find(r, c); ok {
		k := &g.sparse[c]
		k.rows = append(k.rows[:i], k.rows[i+1:]...)
		k.values = append(k.values[:i], k.values[i+1:]...)
		k.spans = append(k.spans[:i], k.spans[i+1:]...)
	}
}

// Curve returns column c as a curve whose keys lie at the times of their rows.
// Columns without gaps share times. It is called once for each column, since
// it closes gaps in place.
func (g *Grid) Curve(c int, times []float64) scene.Curve {
	curve := scene.Curve{Stride: 1, SpanStride: 1, Step: text.Step(g.Decimals[c])}
	if g.Sparse() {
		k := &g.sparse[c]
		curve.Values, curve.Spans = k.values, k.spans
		curve.Times = make([]float64, len(k.rows))
		for i, r := range k.rows {
			curve.Times[i] = times[r]
		}
		return curve
	}
	n := g.Rows
	curve.Times = times
	curve.Values = g.Values[c*n : (c+1)*n : (c+1)*n]
	curve.Spans = g.Spans[c*n : (c+1)*n : (c+1)*n]
	if g.Gaps {
		closeGaps(&curve)
	}
	return curve
}

// closeGaps leaves out the keys whose span is 0. A curve that only ends early
// goes on sharing its times.
func closeGaps(c *scene.Curve) {
	k := 0
	for k < len(c.Spans) && c.Spans[k] != 0 {
		k++
	}
	all, own := c.Times, false
	for i := k; i < len(c.Spans); i++ {
		if c.Spans[i] == 0 {
			continue
		}
		if !own {
			c.Times = append(make([]float64, 0, len(all)), all...)
			own = true
		}
		c.Times[k], c.Values[k], c.Spans[k] = all[i], c.Values[i], c.Spans[i]
		k++
	}
	c.Times, c.Values, c.Spans = c.Times[:k:k], c.Values[:k:k], c.Spans[:k:k]
}

// decimalsOf is the inverse of text.Step.
func decimalsOf(step float64) int { return int(math.Round(-math.Log10(step))) }
