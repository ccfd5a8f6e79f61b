package chart

import (
	"fmt"
	"math"
	"slices"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/track"
	"curvelint/diagnostics/note"
	"curvelint/diagnostics/words"
	"curvelint/parse/scene"
)

// draw draws the timeline: beats at the top, a row for each group and contact,
// notes in a band over their frames and named at the bottom.
func (c *timeline) draw(p *pen, title string) {
	rest := p.heading(title, c.passes)
	rest.y0 += 3
	least := p.letter() + 2
	beats, noteRows := 1, c.noteRows(p, rest)
	room := rest.height() - p.letter() - 6 - float64(beats+noteRows)*least
	rows, hidden := c.chosen(int(room / least))
	high := min(room/float64(max(len(rows), 1)), 40)
	b := box{rest.x0 + c.nameRoom(p, rows), rest.y0 + float64(beats)*least, rest.x1, 0}
	b.y1 = b.y0 + high*float64(len(rows))
	x := scale{c.first, c.last, b.x0, b.x1}
	whole := box{b.x0, b.y0, b.x1, b.y1 + float64(noteRows)*least}
	p.frameAxis(whole, x, c.first, c.last)
	c.drawBeats(p, box{b.x0, rest.y0, b.x1, b.y0}, whole, x)
	for i := range rows {
		c.shade(p, &rows[i], box{b.x0, b.y0 + high*float64(i), b.x1, b.y0 + high*float64(i+1)}, x)
	}
	for i := range rows {
		y := b.y0 + high*(float64(i)+0.5)
		c.drawRow(p, &rows[i], b, x, y, high)
	}
	c.drawNotes(p, box{b.x0, b.y1, b.x1, whole.y1}, x, least)
	// The number of the first frame may stand under the edge of the rows.
	edge := b.x0 - p.width(words.Frame(c.first))/2 - 3
	if hidden == 0 {
		c.drawKey(p, box{rest.x0, 0, edge, whole.y1 + p.letter() + 3})
	} else {
		s := fmt.Sprintf("+ %d rows", hidden)
		if p.width(s) > edge-rest.x0 {
			s = fmt.Sprintf("+ %d", hidden)
		}
		p.label(p.palette.quiet, point{rest.x0, whole.y1 + p.letter() + 3}, left, p.fitted(s, edge-rest.x0))
	}
}

// drawKey says what the signs mean, at the bottom of a box where it has room.
func (c *timeline) drawKey(p *pen, b box) {
	if p.width("peakturn")+34 > b.width() {
		return
	}
	mid := b.y1 - 0.35*p.letter()
	p.fill(p.palette.now, box{b.x0, mid - 4, b.x0 + 12, mid + 4})
	p.dot(p.palette.paper, point{b.x0 + 6, mid}, 1.8)
	p.label(p.palette.quiet, point{b.x0 + 16, b.y1}, left, "peak")
	x := b.x0 + 16 + p.width("peak") + 12
	p.area(p.palette.ink, point{x, mid - 3}, point{x + 2.8, mid + 1.5}, point{x - 2.8, mid + 1.5})
	p.label(p.palette.quiet, point{x + 6, b.y1}, left, "turn")
}

// noteRows is how many lines the notes' names take.
func (c *timeline) noteRows(p *pen, b box) int {
	if len(c.notes) == 0 {
		return 0
	}
	if p.compact {
		return 1
	}
	return min(3, len(c.notes))
}

// chosen returns the n rows that move most, in their own order, and how many
// are left out.
func (c *timeline) chosen(n int) (rows []row, hidden int) {
	n = max(n, 1)
	if len(c.rows) <= n {
		return c.rows, 0
	}
	order := make([]int, len(c.rows))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch pa, pb := c.rows[a].prominence, c.rows[b].prominence; {
		case pa > pb:
			return -1
		case pa < pb:
			return 1
		}
		return 0
	})
	keep := order[:n]
	slices.Sort(keep)
	for _, i := range keep {
		rows = append(rows, c.rows[i])
	}
	return rows, len(c.rows) - n
}

// nameRoom is the width that the rows' names need, at most a third of the
// picture.
func (c *timeline) nameRoom(p *pen, rows []row) float64 {
	w := 0.0
	for i := range rows {
		w = max(w, p.width(rows[i].name))
	}
	return min(w+8, p.w/3)
}

// drawRow draws what one group does: holds as a thin line, strokes as bars with
// a notch at the peak, those of the earlier pass as dashed outlines round them,
// and events as signs on the line.
func (c *timeline) drawRow(p *pen, r *row, b box, x scale, y, high float64) {
	p.label(p.palette.ink, point{b.x0 - 6, y + 0.35*p.letter()}, right, p.fitted(r.name, b.x0-p.margin()-4))
	p.line(p.palette.grid, 1, nil, point{b.x0, y + high/2}, point{b.x1, y + high/2})
	half := min(0.28*high, 5)
	if c.passes {
		half = min(0.2*high, 4)
	}
	inside := func(f float64) float64 { return min(max(x.at(f), b.x0), b.x1) }
	for _, k := range r.holds {
		p.line(p.palette.quiet, 1.2, nil, point{inside(k[0]), y}, point{inside(k[1]), y})
	}
	for _, k := range r.contacts {
		c.drawContact(p, inside(k[0]), inside(k[1]), y, half)
	}
	for _, k := range r.before {
		e := half + 2.5
		p.frame(p.palette.before, 1.3, []float64{3, 2}, box{inside(k.first), y - e, inside(k.last), y + e})
	}
	for _, k := range r.strokes {
		x0, x1 := inside(k.first), inside(k.last)
		// A sliver between strokes that follow each other.
		p.fill(p.palette.now, box{x0 + 0.6, y - half, max(x1-0.6, x0+1.4), y + half})
		if at := x.at(k.peak); at > x0 && at < x1 && x1-x0 > 6 {
			p.dot(p.palette.paper, point{at, y}, min(1.8, half-1))
		}
	}
	c.drawEvents(p, r, x, b, y+half+2)
}

// shade marks the frames of the notes that concern a row; those on the whole
// figure concern all.
func (c *timeline) shade(p *pen, r *row, b box, x scale) {
	for _, n := range c.notes {
		if q := c.study.Scene.Find(n.Part); q == c.fig.Root || r.group != nil && concernsGroup(c.study, &n, r.group) {
			p.noteAreas(b, x, []note.Note{n})
		}
	}
}

func concernsGroup(s *motion.Study, n *note.Note, g *motion.Group) bool {
	return slices.ContainsFunc(g.Parts, func(p scene.PartID) bool { return concerns(s, n, p) })
}

// drawContact draws a contact as a bar of slanted lines.
func (c *timeline) drawContact(p *pen, x0, x1, y, half float64) {
	p.frame(p.palette.quiet, 1, nil, box{x0, y - half, x1, y + half})
	var slants [][2]point
	for x := x0 + 4; x < x1+2*half-1; x += 5 {
		a, b := point{x, y - half}, point{x - 2*half, y + half}
		if a.x > x1 {
			a = point{x1, a.y + (a.x - x1)}
		}
		if b.x < x0 {
			b = point{x0, b.y - (x0 - b.x)}
		}
		slants = append(slants, [2]point{a, b})
	}
	p.strokes(p.palette.quiet, 0.8, slants)
}

// drawEvents marks the turns of a group; its starts and stops are the ends of
// its bars.
func (c *timeline) drawEvents(p *pen, r *row, x scale, b box, y float64) {
	last, turns := math.Inf(-1), 0
	for _, e := range r.events {
		if at := x.at(r.start + float64(e.Frame)); e.Kind == track.Turn && at >= b.x0 && at <= b.x1 {
			turns++
		}
	}
	if float64(turns) > b.width()/12 {
		return // a row full of signs says nothing
	}
	for _, e := range r.events {
		at := x.at(r.start + float64(e.Frame))
		if e.Kind != track.Turn || at < b.x0 || at > b.x1 || at-last < 6 {
			continue
		}
		last = at
		p.area(p.palette.ink, point{at, y - 3}, point{at + 2.8, y + 1.5}, point{at - 2.8, y + 1.5})
	}
}

// drawBeats draws the beats and who leads them.
func (c *timeline) drawBeats(p *pen, b, whole box, x scale) {
	y := b.y1 - 4
	for _, k := range c.beats() {
		x0, x1 := max(x.at(k.first), b.x0), min(x.at(k.last), b.x1)
		p.line(p.palette.ink, 1.2, nil, point{x0, y + 4}, point{x0, y}, point{x1, y}, point{x1, y + 4})
		if s := p.fitted(k.leads, x1-x0-4); len(s) > 6 {
			p.label(p.palette.ink, point{x0 + 2, y - 3}, left, s)
		}
	}
}

// drawNotes names the notes below the rows, each on the first line that is free
// at its frames.
func (c *timeline) drawNotes(p *pen, b box, x scale, high float64) {
	lines := make([]float64, int(b.height()/high+0.5))
	for i := range lines {
		lines[i] = b.x0 - 100
	}
	for _, n := range c.notes {
		x0, x1 := p.noteEnds(b, x, &n)
		w := p.width(n.Check)
		at := max(min(x0+2, b.x1-w), b.x0)
		for i := range lines {
			if lines[i] > at-6 {
				continue
			}
			y := b.y0 + high*float64(i+1)
			p.line(p.palette.ink, 1.2, nil, point{x0, y - high + 6}, point{x0, y - high + 2}, point{x1, y - high + 2}, point{x1, y - high + 6})
			p.label(p.palette.ink, point{at, y - 1}, left, n.Check)
			lines[i] = max(at+w, x1)
			break
		}
	}
}
