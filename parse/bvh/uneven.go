package bvh

import (
	"fmt"

	"curvelint/parse/scene"
)

// uneven is what is wrong with the length of some rows.
type uneven struct {
	rows  int // how many
	row   int // the first of them
	found int // numbers in it
	last  int // the last of them
	at    scene.Span
}

func (u *uneven) add(row, found int, at scene.Span) {
	if u.rows == 0 {
		u.row, u.found, u.at = row, found, at
	}
	u.last = row
	u.rows++
}

// join adds what was found in later rows.
func (u *uneven) join(v uneven) {
	switch {
	case v.rows == 0:
	case u.rows == 0:
		*u = v
	default:
		u.rows += v.rows
		u.last = v.last
	}
}

// finish puts together what the readers found, in the order of the rows, and
// reports what is wrong with the rows as a whole.
func (p *parser) finish(m *motion, readers []rowReader) {
	var short, long uneven
	for i := range readers {
		r := &readers[i]
		m.grid.Gaps = m.grid.Gaps || r.gaps
		for c, d := range r.decimals {
			m.grid.Decimals[c] = max(m.grid.Decimals[c], d)
		}
		p.problems.Append(&r.problems)
		short.join(r.short)
		long.join(r.long)
	}
	p.checkFrameCount(m)
	if len(p.columns) == 0 {
		if len(p.parts) > 0 && len(m.rows) > 0 {
			p.syntax(p.motion, "expected CHANNELS in some joint for the frame lines to move, found none")
		}
		return
	}
	p.reportUneven(long, "what is too much is read over")
	if p.cutNumber(m, readers[len(readers)-1].cut, &short) {
		return
	}
	p.reportUneven(short, "the missing channels have no key there")
}

func (p *parser) reportUneven(u uneven, effect string) {
	if u.rows == 0 {
		return
	}
	more := ""
	if u.rows > 1 {
		more = fmt.Sprintf("; so it is with %d frames", u.rows)
	}
	p.problems.Add(scene.PartialExport, u.at, "expected %d numbers for frame %d, one for each channel, found %d; %s%s",
		len(p.columns), u.row+firstFrame, u.found, effect, more)
}

// checkFrameCount holds the number of frame lines to what Frames: claims.
func (p *parser) checkFrameCount(m *motion) {
	switch n := len(m.rows); {
	case !p.framesKnown || p.frames == n:
	case p.frames > n:
		p.problems.Add(scene.PartialExport, p.framesSpan, "expected as many frame lines as Frames: says (%d), found %d; what is there is used, export again for the rest", p.frames, n)
	default:
		p.problems.Add(scene.Surplus, p.framesSpan, "expected as many frame lines as Frames: says (%d), found %d; all of them are used, other programs may leave out %s; correct Frames:",
			p.frames, n, lastLines(n-p.frames))
	}
}

// lastLines names the last n of several.
func lastLines(n int) string {
	if n == 1 {
		return "the last"
	}
	return fmt.Sprintf("the last %d", n)
}

// cutNumber deals with a file that ends in the middle of its last frame line:
// the number at the end may have lost digits, so it is left out. broken is a
// number there that is none as it stands. It reports whether it told of all
// short rows.
func (p *parser) cutNumber(m *motion, broken scene.Span, short *uneven) bool {
	n := len(m.rows)
	partial := short.rows > 0 && short.last == n-1
	c, start := m.lastNumber()
	switch {
	case !broken.Empty():
		start = int(broken.Start)
	case n == 0 || start == 0 || !p.framesKnown || p.frames < n || !partial && p.frames == n:
		return false
	case until(p.src, start, blank|lineEnd) < len(p.src):
		return false
	default:
		m.grid.Drop(n-1, c)
	}
	p.problems.Add(scene.PartialExport, span(start, len(p.src)),
		"the file ends in frame %d, perhaps within this number, which is left out; export it again", n-1+firstFrame)
	if partial {
		short.rows--
	}
	return short.rows == 0
}

// lastNumber returns column and offset of the last number of the last row,
// offset 0 when that row has none.
func (m *motion) lastNumber() (c, start int) {
	for c := m.grid.Cols - 1; c >= 0; c-- {
		if _, start, ok := m.grid.At(len(m.rows)-1, c); ok {
			return c, start
		}
	}
	return 0, 0
}
