package x3d

import (
	"slices"

	"curvelint/parse/scene"
)

// Reread applies an edit of numbers inside the values of one interpolator to a
// scene that Parse returned. It returns false when the edit touches anything
// else, or when keys would come or go.
func Reread(old *scene.Scene, e scene.Edit) (scene.Reread, bool) {
	r := rereader{old: old, edit: e, shift: len(e.New) - (e.End - e.Start)}
	block, ok := r.block()
	if !ok || len(old.Problems) >= scene.MaxProblems {
		return scene.Reread{}, false
	}
	text := old.Files[0].Text
	newEnd := int(block.End) + r.shift
	r.src = e.After(text)
	r.edit.Text = r.src
	if !onlyNumbers(text[block.Start:block.End]) || !onlyNumbers(r.src[block.Start:newEnd]) {
		return scene.Reread{}, false
	}
	var ids []scene.ChannelID
	for i := range old.Channels {
		if old.Channels[i].Block == block {
			ids = append(ids, scene.ChannelID(i))
		}
	}
	return r.apply(ids, block)
}

// rereader puts what an edit changes into a copy of a scene.
type rereader struct {
	old   *scene.Scene
	edit  scene.Edit
	shift int
	src   []byte
}

// block returns the values that the edit lies in.
func (r *rereader) block() (scene.Span, bool) {
	for i := range r.old.Channels {
		b := r.old.Channels[i].Block
		// An insertion in front of the block moves it.
		if int(b.Start) <= r.edit.Start && int(b.Start) < r.edit.End && r.edit.End <= int(b.End) {
			return b, true
		}
	}
	return scene.Span{}, false
}

// onlyNumbers reports whether text can hold nothing but finite numbers.
func onlyNumbers(text []byte) bool {
	for _, c := range text {
		switch {
		case '0' <= c && c <= '9', c == '-', c == '.', c == '+', c == 'e', c == 'E', class[c]&blank != 0:
		default:
			return false
		}
	}
	return true
}

// apply reads the block before and after the edit. What it was tells whether
// the channels hold just what is written there, or something made of it.
func (r *rereader) apply(ids []scene.ChannelID, block scene.Span) (scene.Reread, bool) {
	n := r.old.Channels[ids[0]].Curve.Len()
	was, ok := readAgain(r.old, ids[0], r.old.Files[0].Text, block, n)
	if !ok {
		return scene.Reread{}, false
	}
	moved := scene.Span{Start: block.Start, End: uint32(int(block.End) + r.shift)}
	now, ok := readAgain(r.old, ids[0], r.src, moved, n)
	if !ok {
		return scene.Reread{}, false
	}
	s := scene.Moved(r.old, r.edit)
	out := scene.Reread{Scene: s}
	for _, id := range ids {
		j := r.column(id)
		c := &s.Channels[id].Curve
		if !plain(&r.old.Channels[id].Curve, was, j) {
			return scene.Reread{}, false
		}
		if !slices.Equal(c.Values, now.values[j]) {
			out.Changed = append(out.Changed, id)
		}
		c.Values, c.Spans, c.Step = now.values[j], now.spans[j], now.step[j]
	}
	return out, true
}

// column returns which column of its interpolator a channel shows.
func (r *rereader) column(id scene.ChannelID) int {
	ch := &r.old.Channels[id]
	if ch.Curve.Stride > 1 {
		return 0
	}
	return ch.Component
}

// plain reports whether a curve is column j of a motion and nothing more.
func plain(c *scene.Curve, m *motion, j int) bool {
	return c.PreValues == nil && c.Handles == nil && j < len(m.values) &&
		slices.Equal(c.Values, m.values[j]) && slices.Equal(c.Spans, m.spans[j])
}

// readAgain reads the values of n keys of the interpolator that drives a
// channel; ok is false unless they are just as many, all sound.
func readAgain(s *scene.Scene, id scene.ChannelID, src []byte, at scene.Span, n int) (m *motion, ok bool) {
	d := newDocument(src, scene.ReadOptions{})
	m = &motion{node: &node{}}
	r := d.numbers(field{start: at.Start, end: at.End}, &m.problems, "")
	var count int
	switch ch := &s.Channels[id]; {
	case ch.Quantity == scene.Quaternion:
		count, _ = d.readRotations(m, &r, n)
	case ch.Quantity == scene.Length, ch.Quantity == scene.Factor:
		count, _ = m.readColumns(&r, n, 3)
	default:
		count, _ = m.readColumns(&r, n, 1)
	}
	_, _, _, more := r.next()
	return m, count == n && !more && len(m.problems.List()) == 0
}
