package grid

import (
	"bytes"
	"sort"

	"curvelint/parse/scene"
	"curvelint/parse/text"
)

// Reader reads rows again for Reread.
type Reader interface {
	// Rows returns the offsets at which the rows in src[from:to], which are
	// whole lines, start; false when a line there is wrong.
	Rows(src []byte, from, to int) ([]uint32, bool)
	// Read fills a dense grid with the rows that start at the offsets; false
	// when a row is not complete or anything else would have to be reported.
	Read(g *Grid, src []byte, starts []uint32) bool
}

// Reread applies an edit of file 0 to a scene whose channels are the columns
// of a dense grid without gaps, reading again only the lines that the edit
// touched. It returns false when the edit reaches before the offset from or to
// the last line, when it changes the number of rows, or when the scene or the
// new lines are not as regular as that. The rest of the text must not depend
// on the numbers.
func Reread(old *scene.Scene, e scene.Edit, from int, r Reader) (scene.Reread, bool) {
	before := old.Files[0].Text
	if e.Start < from || !regular(old) {
		return scene.Reread{}, false
	}
	start, end := lineStart(before, e.Start), lineEnd(before, e.End)
	shift := len(e.New) - (e.End - e.Start)
	if start < from || end == len(before) {
		return scene.Reread{}, false
	}
	src := e.After(before)
	rows, ok := r.Rows(src, start, end+shift)
	spans := old.Channels[0].Curve.Spans
	first := sort.Search(len(spans), func(i int) bool { return int(spans[i]) >= start })
	behind := sort.Search(len(spans), func(i int) bool { return int(spans[i]) >= end })
	if !ok || len(rows) != behind-first {
		return scene.Reread{}, false
	}
	g := New(len(rows), len(old.Channels), len(rows)*len(old.Channels))
	if !r.Read(g, src, rows) {
		return scene.Reread{}, false
	}
	p := patch{old: old, g: g, src: src, first: first, behind: behind, shift: shift}
	return p.apply(), true
}

// regular reports whether every channel has a key with a place in every row.
func regular(s *scene.Scene) bool {
	if len(s.Channels) == 0 || s.Channels[0].Curve.Len() == 0 {
		return false
	}
	first := &s.Channels[0].Curve
	for i := range s.Channels {
		c := &s.Channels[i].Curve
		if c.Len() != first.Len() || &c.Times[0] != &first.Times[0] || len(c.Spans) != c.Len() {
			return false
		}
	}
	return true
}

func lineStart(src []byte, i int) int { return bytes.LastIndexAny(src[:i], "\r\n") + 1 }

func lineEnd(src []byte, i int) int {
	if n := bytes.IndexAny(src[i:], "\r\n"); n >= 0 {
		return i + n
	}
	return len(src)
}

// patch puts rows first to behind-1, read again, into a copy of a scene.
type patch struct {
	old           *scene.Scene
	g             *Grid
	src           []byte
	first, behind int
	shift         int
}

// apply makes the new scene. Columns that stay the same are shared.
func (p *patch) apply() scene.Reread {
	s := *p.old
	file := *p.old.Files[0]
	file.Text = p.src
	s.Files = append([]*scene.File{&file}, p.old.Files[1:]...)
	s.Channels = append([]scene.Channel(nil), p.old.Channels...)
	spans := p.newSpans()
	var changed []scene.ChannelID
	for c := range s.Channels {
		ch := &s.Channels[c]
		ch.Block.End = uint32(int(ch.Block.End) + p.shift)
		if n := ch.Curve.Len(); spans != nil {
			ch.Curve.Spans = spans[c*n : (c+1)*n : (c+1)*n]
		}
		if p.values(c, &ch.Curve) {
			changed = append(changed, scene.ChannelID(c))
		}
		p.step(c, &ch.Curve)
	}
	return scene.Reread{Scene: &s, Changed: changed}
}

// newSpans returns the spans of all columns, nil when none moved.
func (p *patch) newSpans() []uint32 {
	if p.shift == 0 && !p.moved() {
		return nil
	}
	n := p.old.Channels[0].Curve.Len()
	all := make([]uint32, n*len(p.old.Channels))
	for c := range p.old.Channels {
		old, spans := p.old.Channels[c].Curve.Spans, all[c*n:(c+1)*n]
		copy(spans, old[:p.first])
		copy(spans[p.first:], p.g.Spans[c*p.g.Rows:(c+1)*p.g.Rows])
		for i := p.behind; i < n; i++ {
			spans[i] = uint32(int(old[i]) + p.shift)
		}
	}
	return all
}

// moved reports whether a number that was read again starts elsewhere.
func (p *patch) moved() bool {
	for c := range p.old.Channels {
		for r := range p.g.Rows {
			if p.g.Spans[c*p.g.Rows+r] != p.old.Channels[c].Curve.Spans[p.first+r] {
				return true
			}
		}
	}
	return false
}

// values gives the curve its new values and reports whether any changed.
func (p *patch) values(c int, curve *scene.Curve) bool {
	fresh := p.g.Values[c*p.g.Rows : (c+1)*p.g.Rows]
	same := true
	for r, v := range fresh {
		same = same && v == curve.Values[p.first+r]
	}
	if same {
		return false
	}
	curve.Values = append([]float64(nil), curve.Values...)
	copy(curve.Values[p.first:], fresh)
	return true
}

// step keeps the largest number of printed decimals up to date. Only when a
// number that had it was read again is the column looked through.
func (p *patch) step(c int, curve *scene.Curve) {
	was, now := decimalsOf(curve.Step), p.g.Decimals[c]
	if now < was && p.held(c, was) {
		for _, start := range curve.Spans {
			if now == was {
				break
			}
			_, _, d, _ := text.FloatStep(p.src, int(start))
			now = max(now, d)
		}
		was = now
	}
	curve.Step = text.Step(max(was, now))
}

// held reports whether one of the old numbers had that many decimals.
func (p *patch) held(c, decimals int) bool {
	spans := p.old.Channels[c].Curve.Spans
	for _, start := range spans[p.first:p.behind] {
		if _, _, d, _ := text.FloatStep(p.old.Files[0].Text, int(start)); d >= decimals {
			return true
		}
	}
	return false
}
