package bvh

import (
	"bytes"
	"sync"

	"curvelint/parse/grid"
	"curvelint/parse/scene"
	"curvelint/parse/text"
)

// motion is what the frame lines hold.
type motion struct {
	rows []uint32 // offset of the first byte of each frame line
	grid *grid.Grid
}

// parallelBytes is how many bytes of frame lines are worth a goroutine.
const parallelBytes = 1 << 19

// readMotion reads the frame lines with the given number of goroutines.
func (p *parser) readMotion(workers int) *motion {
	n, size := len(p.columns), len(p.src)-p.rowsStart
	m := &motion{}
	m.rows, _ = rowStarts(p.src, p.rowsStart, len(p.src), func(start, end int) {
		p.syntax(span(start, end), "expected a frame line of %d numbers, found %s; the line is read over", n, quote(p.src[start:end]))
	})
	between := uint8(blank)
	var wrapped bool
	if m.rows, wrapped = p.unwrap(m.rows); wrapped {
		between |= lineEnd
	}
	// Every number has a byte and one that ends it.
	m.grid = grid.New(len(m.rows), n, (size+2)/2)
	if m.grid.Sparse() {
		p.finish(m, []rowReader{p.readSparse(m)})
		return m
	}
	workers = max(min(workers, size/parallelBytes, len(m.rows)), 1)
	readers := make([]rowReader, workers)
	var wg sync.WaitGroup
	for w := range readers {
		r := &readers[w]
		*r = rowReader{src: p.src, rows: m.rows, between: between, grid: m.grid, decimals: make([]int, n)}
		from, to := len(m.rows)*w/workers, len(m.rows)*(w+1)/workers
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

// readSparse reads row by row and keeps the numbers that are there.
func (p *parser) readSparse(m *motion) rowReader {
	n := len(p.columns)
	line := grid.New(1, n, n)
	r := rowReader{src: p.src, rows: make([]uint32, 1), between: blank, grid: line, decimals: make([]int, n)}
	for row, start := range m.rows {
		r.rows[0] = start
		m.grid.Append(row, line, r.checked(0, row))
	}
	return r
}

// rowStarts returns where the lines in src[from:to] that hold frames start.
// Blank lines hold none; lines without any number are given to bad and make ok
// false.
func rowStarts(src []byte, from, to int, bad func(start, end int)) (rows []uint32, ok bool) {
	ok = true
	for i := from; ; {
		i = skip(src, i, blank|lineEnd)
		if i >= to {
			return rows, ok
		}
		end := lineStop(src, i)
		if src[i]-'0' <= 9 || src[i] == '-' || hasNumber(src[i:end]) {
			rows = append(rows, uint32(i))
		} else {
			ok = false
			bad(i, end)
		}
		i = end
	}
}

// lineStop returns the offset of the line end at or behind i.
func lineStop(src []byte, i int) int {
	n := bytes.IndexByte(src[i:], '\n')
	if n < 0 {
		n = len(src) - i
	}
	if cr := bytes.IndexByte(src[i:i+n], '\r'); cr >= 0 {
		n = cr
	}
	return i + n
}

// hasNumber reports whether some word of a line begins like a number.
func hasNumber(line []byte) bool {
	for i := skip(line, 0, blank); i < len(line); i = skip(line, skipWord(line, i), blank) {
		if startsNumber(line, i) {
			return true
		}
		if class[line[i]] == brace {
			return false
		}
	}
	return false
}

// rowReader reads rows into the columns of a grid.
type rowReader struct {
	src      []byte
	rows     []uint32
	between  uint8 // the classes of bytes that stand between the numbers of a row
	grid     *grid.Grid
	decimals []int // of this reader alone
	gaps     bool
	problems scene.Problems
	cut      scene.Span // a broken number at the very end of the file
	short    uneven
	long     uneven
}

// read reads rows from to to-1.
func (r *rowReader) read(from, to int) {
	for row := from; row < to; row++ {
		r.checked(row, row)
	}
}

// checked reads a row that is known to the user as frame line number, notes
// when it is too short or too long, and returns how many columns it has.
func (r *rowReader) checked(row, number int) int {
	i, n := r.row(row)
	if n < len(r.decimals) {
		r.gaps = true
		r.short.add(number, n, span(i, i))
		return n
	}
	i = skip(r.src, i, blank)
	if i < len(r.src) && class[r.src[i]] != lineEnd {
		end := lineStop(r.src, i)
		r.long.add(number, n+countWords(r.src[i:end]), span(i, end))
	}
	return n
}

// row reads the numbers of one row up to the last column or the end of the
// line, and returns the offset behind them and their number.
func (r *rowReader) row(row int) (end, n int) {
	src, i := r.src, int(r.rows[row])
	values, spans, decimals := r.grid.Values, r.grid.Spans, r.decimals
	between, at := r.between, row
	for c := range decimals {
		for i < len(src) && class[src[i]]&between != 0 {
			i++
		}
		v, end, d, ok := text.FloatStep(src, i)
		if !ok || v-v != 0 || end < len(src) && class[src[end]]&(blank|lineEnd) == 0 {
			if i == len(src) || class[src[i]] == lineEnd {
				return i, c
			}
			i = r.broken(i, v, ok)
			at += len(r.rows)
			continue
		}
		values[at], spans[at] = v, uint32(i)
		at += len(r.rows)
		if d > decimals[c] {
			decimals[c] = d
		}
		i = end
	}
	return i, len(decimals)
}

// broken reports the word at i, which is no finite number, and returns its end.
func (r *rowReader) broken(i int, v float64, number bool) int {
	end := until(r.src, i, blank|lineEnd)
	r.gaps = true
	if end == len(r.src) && startsNumber(r.src, i) {
		r.cut = span(i, end)
		return end
	}
	what := "a number"
	if number && v-v != 0 {
		what = "a finite number"
	}
	r.problems.Add(scene.Syntax, span(i, end), "expected %s, found %s; this key is left out", what, quote(r.src[i:end]))
	return end
}

// countWords returns the number of words of a line.
func countWords(line []byte) int {
	n := 0
	for i := skip(line, 0, blank); i < len(line); i = skip(line, until(line, i, blank), blank) {
		n++
	}
	return n
}
