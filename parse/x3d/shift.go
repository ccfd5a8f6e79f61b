package x3d

import (
	"slices"

	"curvelint/parse/scene"
)

// shifted returns a copy of the scene over the edited text, in which every
// place behind the edit is moved. Columns that instances share stay shared.
func (r *rereader) shifted() *scene.Scene {
	s := *r.old
	file := *s.Files[0]
	file.Text = r.src
	s.Files = []*scene.File{&file}
	s.Parts = slices.Clone(s.Parts)
	for i := range s.Parts {
		p := &s.Parts[i]
		r.move(&p.Def)
		r.move(&p.NameSpan)
		r.move(&p.Body)
		p.Ops = slices.Clone(p.Ops)
		for k := range p.Ops {
			r.move(&p.Ops[k].Span)
		}
	}
	s.Channels = slices.Clone(s.Channels)
	done := make(map[*uint32][]uint32)
	for i := range s.Channels {
		r.moveKeys(&s.Channels[i], done)
	}
	s.Problems = slices.Clone(s.Problems)
	for i := range s.Problems {
		r.move(&s.Problems[i].Span)
	}
	s.Allows = slices.Clone(s.Allows)
	for i := range s.Allows {
		r.move(&s.Allows[i].Span)
	}
	return &s
}

// move shifts the ends of a span that lie behind the edit.
func (r *rereader) move(s *scene.Span) {
	if int(s.Start) >= r.edit.End {
		s.Start = uint32(int(s.Start) + r.shift)
	}
	if int(s.End) >= r.edit.End {
		s.End = uint32(int(s.End) + r.shift)
	}
}

// moveKeys shifts the places of a channel and of its keys.
func (r *rereader) moveKeys(ch *scene.Channel, done map[*uint32][]uint32) {
	behind := int(ch.Block.Start) >= r.edit.End
	r.move(&ch.Def)
	r.move(&ch.Block)
	old := ch.Curve.Spans
	if !behind || r.shift == 0 || len(old) == 0 {
		return
	}
	spans, ok := done[&old[0]]
	if !ok {
		spans = make([]uint32, len(old))
		for i, at := range old {
			spans[i] = uint32(int(at) + r.shift)
		}
		done[&old[0]] = spans
	}
	ch.Curve.Spans = spans
}
