package chart

import (
	"math"
	"slices"

	"curvelint/diagnostics/note"
	"curvelint/diagnostics/words"
)

// names writes frame numbers at the ends of the path, at the ends of its
// strokes and along it, and the checks of notes beside their frames, each where
// nothing else is written.
func (c *arcChart) names(p *pen, b box, at, before []point, notes []note.Note) {
	l := labels{p: p, bounds: b, path: slices.Concat(at, before), named: map[int]bool{}}
	for _, n := range notes {
		from, to := c.span(&n)
		l.put(at, (from+to)/2, n.Check, p.palette.ink, 14, 22)
	}
	last := len(at) - 1
	l.frame(at, 0, c.frame(0), p.palette.ink)
	l.frame(at, last, c.frame(last), p.palette.ink)
	for _, k := range c.track.Strokes() {
		for _, f := range []int{k.First, k.Last} {
			if f > c.clip.first && f < c.clip.last {
				l.frame(at, f-c.clip.first, c.frame(f-c.clip.first), p.palette.quiet)
			}
		}
	}
	every := max(c.step, 4)
	for i := every; i < last; i += every {
		l.frame(at, i, c.frame(i), p.palette.quiet)
	}
}

func (c *arcChart) frame(i int) string { return words.Frame(c.now.first + float64(i)) }

// labels places texts beside a path.
type labels struct {
	p      *pen
	bounds box
	path   []point
	taken  []box
	named  map[int]bool // frames that have their number
}

// frame writes the number of a frame, once.
func (l *labels) frame(at []point, i int, s string, c colour) {
	if !l.named[i] {
		l.named[i] = true
		l.put(at, i, s, c, 9, 16)
	}
}

// put writes s beside position i of a path, at the first of some distances at
// which a side is free; a text with no free side is left out.
func (l *labels) put(at []point, i int, s string, c colour, distances ...float64) {
	w, h := l.p.width(s), l.p.letter()
	a, b := at[max(i-1, 0)], at[min(i+1, len(at)-1)]
	dx, dy := b.x-a.x, b.y-a.y
	if n := math.Hypot(dx, dy); n > 0 {
		dx, dy = dx/n, dy/n
	} else {
		dx = 1
	}
	for _, far := range distances {
		for _, d := range []point{{dy, -dx}, {-dy, dx}, {0, -1}, {0, 1}, {1, 0}, {-1, 0}} {
			q := point{at[i].x + far*d.x, at[i].y + far*d.y}
			r := box{q.x - w/2 + d.x*w/2, q.y - h/2 + d.y*h/2, 0, 0}
			r.x1, r.y1 = r.x0+w, r.y0+h
			if l.free(r) {
				l.taken = append(l.taken, r)
				l.p.label(c, point{r.x0, r.y1 - 0.18*h}, left, s)
				return
			}
		}
	}
}

func (l *labels) free(r box) bool {
	if r.x0 < l.bounds.x0 || r.x1 > l.bounds.x1 || r.y0 < l.bounds.y0 || r.y1 > l.bounds.y1-l.p.letter()-4 {
		return false
	}
	for _, t := range l.taken {
		if r.x0 < t.x1+3 && r.x1 > t.x0-3 && r.y0 < t.y1+1 && r.y1 > t.y0-1 {
			return false
		}
	}
	for _, q := range l.path {
		if q.x > r.x0-4 && q.x < r.x1+4 && q.y > r.y0-4 && q.y < r.y1+4 {
			return false
		}
	}
	return true
}
