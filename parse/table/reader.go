package table

import (
	"bytes"

	"curvelint/parse/grid"
	"curvelint/parse/scene"
	"curvelint/parse/text"
)

// rowReader reads rows into the columns of a grid.
type rowReader struct {
	src       []byte
	rows      []uint32 // where the cells of each row begin, at a separator
	separator byte
	targets   []int // the grid's column of each cell, -1 to read over it
	before    []int // how many columns of the grid stand before each cell
	grid      *grid.Grid
	decimals  []int // by column of the grid, of this reader alone
	gaps      bool
	problems  scene.Problems

	reached int // how many columns of the grid the last row reached
	ragged  ragged
}

// read reads rows from to to-1.
func (r *rowReader) read(from, to int) {
	for row := from; row < to; row++ {
		r.row(row)
	}
}

// row reads the cells of one row.
func (r *rowReader) row(row int) {
	src, separator, i := r.src, r.separator, int(r.rows[row])
	values, spans, decimals, n := r.grid.Values, r.grid.Spans, r.decimals, len(r.rows)
	for c, target := range r.targets {
		if i >= len(src) || src[i] != separator {
			r.short(row, c, i)
			return
		}
		i++
		for i < len(src) && src[i] == ' ' {
			i++
		}
		v, end, d, ok := text.FloatStep(src, i)
		if !ok || target < 0 || v-v != 0 || end < len(src) && src[end] != separator && !isLineEnd(src[end]) {
			i = r.odd(row, target, i)
			continue
		}
		at := target*n + row
		values[at], spans[at] = v, uint32(i)
		if d > decimals[target] {
			decimals[target] = d
		}
		i = end
	}
	r.reached = len(decimals)
	if i < len(src) && src[i] == separator {
		r.long(row, i)
	}
}

// odd reads the cell at i, which is not simply a number: empty, quoted, with
// blanks behind it, broken or of no interest. It returns where the cell ends.
func (r *rowReader) odd(row, target, i int) int {
	c := cellAt(r.src, i, r.separator)
	if target < 0 {
		return c.next
	}
	start, stop := trimmed(r.src, c)
	v, end, d, ok := text.FloatStep(r.src, start)
	if ok && end == stop && !c.broken && v-v == 0 {
		at := target*len(r.rows) + row
		r.grid.Values[at], r.grid.Spans[at] = v, uint32(start)
		r.decimals[target] = max(r.decimals[target], d)
		return c.next
	}
	r.gaps = true
	if start < stop {
		r.broken(span(start, stop), ok && end == stop)
	}
	return c.next
}

// trimmed returns the content of a cell without blanks inside its quotes.
func trimmed(src []byte, c cell) (start, end int) {
	b := src[c.start:c.end]
	start = c.end - len(bytes.TrimLeft(b, " \t"))
	return start, start + len(bytes.Trim(b, " \t"))
}

// broken reports a cell that is no finite number.
func (r *rowReader) broken(at scene.Span, number bool) {
	found := r.src[at.Start:at.End]
	what, hint := "a number", ""
	if number {
		what = "a finite number"
	} else if _, n, ok := text.Float(found, 0); ok && n < len(found) && found[n] == ',' {
		hint = " (decimals are written with a point)"
	}
	r.problems.Add(scene.Syntax, at, "expected %s, found %s%s; this key is left out", what, quote(found), hint)
}

// short notes a row that ends at i before column c. Columns that are read over
// may be missing.
func (r *rowReader) short(row, c, i int) {
	if r.reached = r.before[c]; r.reached == len(r.decimals) {
		return
	}
	r.gaps = true
	r.note(row, span(i, i), c+1)
}

// long notes a row with cells behind the last column, at i; empty ones come
// from separators at the line's end.
func (r *rowReader) long(row, i int) {
	end := lineStop(r.src, i)
	if emptyRow(r.src[i:end], r.separator) {
		return
	}
	cells := len(r.targets) + 1
	for j := i; j < len(r.src) && r.src[j] == r.separator; cells++ {
		j = cellAt(r.src, j+1, r.separator).next
	}
	r.note(row, span(i+1, end), cells)
}

func (r *rowReader) note(row int, at scene.Span, cells int) {
	r.ragged.join(ragged{rows: 1, at: at, cells: cells, last: row})
}

// ragged is what is wrong with the length of some rows.
type ragged struct {
	rows  int // how many
	at    scene.Span
	cells int // in the first of them
	last  int // the last of them
}

// join adds what was found in later rows.
func (g *ragged) join(later ragged) {
	switch {
	case later.rows == 0:
	case g.rows == 0:
		*g = later
	default:
		g.rows += later.rows
		g.last = later.last
	}
}
