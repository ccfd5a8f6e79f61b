package table

import (
	"bytes"
	"fmt"
	"math"
	"sync"

	"curvelint/parse/grid"
	"curvelint/parse/scene"
	"curvelint/parse/text"
)

// rows is what the lines below the header hold.
type rows struct {
	grid   *grid.Grid
	frames []float64 // display frame of each row
}

// farthest is the largest frame number, or time in seconds, that is believed.
const farthest = 1e9

// findRows finds the lines that hold frames and reads their first cells. Blank
// lines, comments and lines of empty cells hold none; lines whose first cell
// is no number, or does not come after the one before, are reported.
func (p *parser) findRows() {
	what := "a frame number"
	if p.inSeconds {
		what = "a time in seconds"
	}
	last := cell{}
	scanRows(p.src, p.i, len(p.src), p.separator, func(start, end int) {
		c := cellAt(p.src, start, p.separator)
		at := span(c.start, c.end)
		v, ok := p.value(c)
		ok = ok && math.Abs(v) <= farthest
		switch {
		case end == len(p.src) && c.next == end:
			p.problems.Add(scene.PartialExport, at, "the file ends in the first cell of a row, which is left out; export it again")
		case !ok:
			p.syntax(at, "expected %s in the first column, found %s; the row is read over", what, quote(p.src[c.start:c.end]))
		case len(p.seconds) > 0 && v <= p.seconds[len(p.seconds)-1]:
			p.syntax(at, "expected %s above %s of the row before, found %s; the row is read over",
				what, p.src[last.start:last.end], p.src[c.start:c.end])
		default:
			p.rows = append(p.rows, uint32(c.next))
			p.seconds = append(p.seconds, v)
			last = c
		}
	})
	if len(p.rows) == 0 && len(p.problems.List()) == 0 {
		p.problems.Add(scene.PartialExport, span(p.i, p.i), "expected rows of numbers below the header, found none")
	}
}

// scanRows calls row for each line that starts in src[from:to] and is neither
// blank nor a comment.
func scanRows(src []byte, from, to int, separator byte, row func(start, end int)) {
	quotes := bytes.IndexByte(src[from:], '"') >= 0
	for i := from; i < to; {
		if isLineEnd(src[i]) {
			i++
			continue
		}
		end := lineStop(src, i)
		if quotes && bytes.IndexByte(src[i:end], '"') >= 0 && src[i] != '#' {
			end = rowEnd(src, i, separator)
		}
		if src[i] != '#' && !emptyRow(src[i:end], separator) {
			row(i, end)
		}
		i = end
	}
}

// value returns the finite number in a cell.
func (p *parser) value(c cell) (v float64, ok bool) {
	v, end, ok := text.Float(p.src, c.start)
	return v, ok && !c.broken && end == c.end && v-v == 0
}

// findText tells columns of text from columns of numbers by the first row. A
// text in it is reported once; a number that is only broken is not a text.
func (p *parser) findText() {
	var n int32
	i := len(p.src)
	if len(p.rows) > 0 {
		i = int(p.rows[0])
	}
	for c := range p.columns {
		col := &p.columns[c]
		if i < len(p.src) && p.src[i] == p.separator {
			x := cellAt(p.src, i+1, p.separator)
			i = x.next
			if x.start < x.end && p.src[x.start]|0x20 >= 'a' && col.role != ignored {
				if _, _, ok := text.Float(p.src, x.start); !ok {
					p.problems.Add(scene.Unsupported, span(x.start, x.end), "column %s holds text, not numbers, and is read over", quote(p.src[col.cell.Start:col.cell.End]))
					p.forget(c)
				}
			}
		}
		if col.role != ignored {
			col.at = n
			n++
		}
	}
}

// forget makes column c one that is read over.
func (p *parser) forget(c int) {
	col := &p.columns[c]
	p.parts[col.part].columns[col.role][col.axis] = 0
	col.role = ignored
}

// times turns the first cells into display frames and sets rate and range.
func (p *parser) times(s *scene.Scene) {
	if p.inSeconds {
		s.Rate, s.RateKnown = scene.InferRate(p.seconds)
		if p.rate > 0 {
			s.Rate = p.rate
		}
		p.seconds = scene.ToFrames(p.seconds, s.Rate)
	}
	if n := len(p.seconds); n > 0 {
		s.First, s.Last = p.seconds[0], p.seconds[n-1]
	}
}

// parallelBytes is how many bytes of rows are worth a goroutine.
const parallelBytes = 1 << 19

// read reads the cells of all rows with the given number of goroutines.
func (p *parser) read(workers int) *rows {
	targets := make([]int, len(p.columns))
	for c := range p.columns {
		targets[c] = int(p.columns[c].at)
	}
	before := countBefore(targets)
	n := before[len(targets)]
	size := len(p.src) - p.i
	m := &rows{grid: grid.New(len(p.rows), n, size+1), frames: p.seconds}
	reader := rowReader{src: p.src, rows: p.rows, separator: p.separator, targets: targets, before: before, grid: m.grid}
	if m.grid.Sparse() {
		p.finish(m, []rowReader{p.readSparse(m, reader)})
		return m
	}
	workers = max(min(workers, size/parallelBytes, len(p.rows)), 1)
	readers := make([]rowReader, workers)
	var wg sync.WaitGroup
	for w := range readers {
		readers[w] = reader
		r := &readers[w]
		r.decimals = make([]int, n)
		from, to := len(p.rows)*w/workers, len(p.rows)*(w+1)/workers
		if w == workers-1 {
			r.read(from, to)
			continue
		}
		wg.Go(func() { r.read(from, to) })
	}
	wg.Wait()
	p.finish(m, readers)
	return m
}

// countBefore returns how many columns are kept before each cell, and in all.
func countBefore(targets []int) []int {
	before := make([]int, len(targets)+1)
	for c, target := range targets {
		before[c+1] = before[c]
		if target >= 0 {
			before[c+1]++
		}
	}
	return before
}

// readSparse reads row by row and keeps the numbers that are there.
func (p *parser) readSparse(m *rows, r rowReader) rowReader {
	n := m.grid.Cols
	r.grid, r.decimals = grid.New(1, n, n), make([]int, n)
	r.rows = make([]uint32, 1)
	var lengths ragged
	for row, start := range p.rows {
		r.rows[0] = start
		r.row(0)
		m.grid.Append(row, r.grid, r.reached)
		r.ragged.last = row
		lengths.join(r.ragged)
		r.ragged = ragged{}
	}
	r.ragged = lengths
	return r
}

// finish puts together what the readers found.
func (p *parser) finish(m *rows, readers []rowReader) {
	var lengths ragged
	for i := range readers {
		r := &readers[i]
		m.grid.Gaps = m.grid.Gaps || r.gaps
		for c, d := range r.decimals {
			m.grid.Decimals[c] = max(m.grid.Decimals[c], d)
		}
		p.problems.Append(&r.problems)
		lengths.join(r.ragged)
	}
	cut := p.cutCell(m, lengths)
	if cut {
		lengths.rows--
	}
	if lengths.rows == 0 {
		return
	}
	more := ""
	if lengths.rows > 1 {
		more = fmt.Sprintf("; so it is with %d rows", lengths.rows)
	}
	p.syntax(lengths.at, "expected %d cells as in the header, found %d; cells that are missing have no key, what is too much is read over%s",
		len(p.columns)+1, lengths.cells, more)
}

// cutCell deals with a file that ends in the middle of its last row: the last
// number may have lost digits, so it is left out.
func (p *parser) cutCell(m *rows, lengths ragged) bool {
	n, end := len(p.rows), len(p.src)
	if lengths.rows == 0 || lengths.last != n-1 || isLineEnd(p.src[end-1]) {
		return false
	}
	cells := 1
	for i := int(p.rows[n-1]); i < end && p.src[i] == p.separator; cells++ {
		i = cellAt(p.src, i+1, p.separator).next
	}
	if cells > len(p.columns) {
		return false
	}
	for c := m.grid.Cols - 1; c >= 0; c-- {
		if _, start, ok := m.grid.At(n-1, c); ok {
			if _, stop, _ := text.Float(p.src, start); stop == end {
				m.grid.Drop(n-1, c)
			}
			break
		}
	}
	p.problems.Add(scene.PartialExport, span(end, end), "the file ends in its last row, perhaps within a number: expected %d cells, found %d; a number at the very end is left out", len(p.columns)+1, cells)
	return true
}
