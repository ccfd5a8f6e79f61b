package chart

import "curvelint/diagnostics/note"

// noteAreas shades the frames of notes in a box. It is drawn before what it
// stands behind.
func (p *pen) noteAreas(b box, x scale, notes []note.Note) {
	for _, n := range notes {
		x0, x1 := p.noteEnds(b, x, &n)
		p.fill(p.palette.note, box{x0, b.y0, x1, b.y1})
	}
}

// noteNames draws a bracket over a box from each note's first frame to its last
// and writes the check over it, where there is room right of from.
func (p *pen) noteNames(b box, x scale, from float64, notes []note.Note) {
	taken := from - 6
	for _, n := range notes {
		x0, x1 := p.noteEnds(b, x, &n)
		p.line(p.palette.ink, 1.2, nil, point{x0, b.y0 + 4}, point{x0, b.y0}, point{x1, b.y0}, point{x1, b.y0 + 4})
		w := p.width(n.Check)
		at := min(max(x0, taken+6), b.x1-w)
		if at < taken+6 || at > x1-w/2 && at > x0 {
			continue
		}
		p.label(p.palette.ink, point{at, b.y0 - 3}, left, n.Check)
		taken = at + w
	}
}

// noteEnds returns where a note begins and ends in a box; it is never too
// narrow to see.
func (p *pen) noteEnds(b box, x scale, n *note.Note) (x0, x1 float64) {
	x0, x1 = x.at(n.First), x.at(n.Last)
	if x1-x0 < 4 {
		mid := (x0 + x1) / 2
		x0, x1 = mid-2, mid+2
	}
	return min(max(x0, b.x0), b.x1-2), max(min(x1, b.x1), b.x0+2)
}
