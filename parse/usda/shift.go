package usda

import (
	"slices"

	"curvelint/parse/scene"
)

// shifted returns a copy of the scene over the edited text, in which every
// place behind the edit is moved. Columns before the edit are shared.
func (r *rereader) shifted() *scene.Scene {
	s := *r.old
	file := *s.Files[0]
	file.Text = r.src
	s.Files = slices.Clone(s.Files)
	s.Files[0] = &file
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
	for i := range s.Channels {
		r.moveChannel(&s.Channels[i])
	}
	s.Cameras = slices.Clone(s.Cameras)
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
	if s.File != 0 {
		return
	}
	if int(s.Start) >= r.edit.End {
		s.Start = uint32(int(s.Start) + r.shift)
	}
	if int(s.End) >= r.edit.End {
		s.End = uint32(int(s.End) + r.shift)
	}
}

// moveChannel shifts the places of a channel and of its keys.
func (r *rereader) moveChannel(c *scene.Channel) {
	behind := c.Block.File == 0 && int(c.Block.Start) >= r.edit.End
	r.move(&c.Def)
	r.move(&c.Block)
	if !behind || c.Curve.File != 0 || r.shift == 0 {
		return
	}
	spans := make([]uint32, len(c.Curve.Spans))
	for i, at := range c.Curve.Spans {
		spans[i] = uint32(int(at) + r.shift)
	}
	c.Curve.Spans = spans
}
