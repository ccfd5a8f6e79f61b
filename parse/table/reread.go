package table

import (
	"bytes"
	"slices"

	"curvelint/parse/grid"
	"curvelint/parse/scene"
)

// Reread reads only the rows that an edit touched. It returns false, and the
// whole file must be read, when the edit changes more than numbers in rows
// after the first, when it changes a row's frame, or when the file has or gets
// quotes, empty cells or anything irregular.
func Reread(old *scene.Scene, e scene.Edit) (scene.Reread, bool) {
	if len(old.Channels) == 0 || old.Channels[0].Curve.Len() < 2 || len(old.Problems) > 0 {
		return scene.Reread{}, false
	}
	src := old.Files[0].Text
	p := newParser(src, scene.ReadOptions{MaxDepth: 1 << 30})
	if !p.header() || len(p.columns) != len(old.Channels) {
		return scene.Reread{}, false
	}
	// Columns of text were told by the first row.
	from := int(old.Channels[0].Curve.Spans[1])
	for from > 0 && !isLineEnd(src[from-1]) {
		from--
	}
	return grid.Reread(old, e, from, &rowsAgain{p: p, shift: len(e.New) - (e.End - e.Start)})
}

// rowsAgain reads rows for grid.Reread.
type rowsAgain struct {
	p     *parser // knows the old text and its header
	shift int
}

// Rows implements grid.Reader.
func (a *rowsAgain) Rows(src []byte, from, to int) ([]uint32, bool) {
	_, times, ok := a.starts(a.p.src, from, to-a.shift)
	if !ok {
		return nil, false
	}
	rows, newTimes, ok := a.starts(src, from, to)
	return rows, ok && slices.Equal(times, newTimes)
}

// starts returns where the cells of the rows in src[from:to] begin and what
// their first cells say.
func (a *rowsAgain) starts(src []byte, from, to int) (rows []uint32, times []float64, ok bool) {
	if bytes.IndexByte(src[from:to], '"') >= 0 {
		return nil, nil, false
	}
	p := *a.p
	p.src = src
	ok = true
	scanRows(src[:to], from, to, p.separator, func(start, end int) {
		c := cellAt(src, start, p.separator)
		v, number := p.value(c)
		ok = ok && number
		rows = append(rows, uint32(c.next))
		times = append(times, v)
	})
	return rows, times, ok
}

// Read implements grid.Reader.
func (a *rowsAgain) Read(g *grid.Grid, src []byte, starts []uint32) bool {
	targets := make([]int, len(a.p.columns))
	for c := range targets {
		targets[c] = c
	}
	r := rowReader{src: src, rows: starts, separator: a.p.separator, targets: targets, before: countBefore(targets), grid: g, decimals: g.Decimals}
	r.read(0, len(starts))
	return !r.gaps && r.ragged.rows == 0 && len(r.problems.List()) == 0
}
