package scene

import "slices"

// Moved returns a copy of a scene over the text of file 0 after an edit, in
// which every place behind the edit has moved with its text. What the edit
// itself changes is the caller's to put in; places inside the replaced bytes
// stay as they are. Columns are shared with the old scene unless they move; all
// else may be written to.
func Moved(old *Scene, e Edit) *Scene {
	m := mover{end: e.End, shift: len(e.New) - (e.End - e.Start), spans: make(map[*uint32][]uint32)}
	s := *old
	before := old.Files[0]
	file := *before
	file.Text = e.After(before.Text)
	s.Files = slices.Clone(s.Files)
	s.Files[0] = &file
	s.Channels = slices.Clone(s.Channels)
	s.Cameras = slices.Clone(s.Cameras)
	s.Parts = slices.Clone(s.Parts)
	for i := range s.Parts {
		p := &s.Parts[i]
		m.move(&p.Def, &p.NameSpan, &p.Body)
		p.Ops = slices.Clone(p.Ops)
		for k := range p.Ops {
			m.move(&p.Ops[k].Span)
		}
	}
	for i := range s.Channels {
		c := &s.Channels[i]
		m.move(&c.Def, &c.Block)
		if m.shift != 0 {
			m.column(&c.Curve)
		}
	}
	s.Problems = slices.Clone(s.Problems)
	for i := range s.Problems {
		m.move(&s.Problems[i].Span)
	}
	s.Allows = slices.Clone(s.Allows)
	for i := range s.Allows {
		m.move(&s.Allows[i].Span)
	}
	return &s
}

// mover moves places of file 0 at or behind end.
type mover struct {
	end, shift int
	spans      map[*uint32][]uint32 // columns moved so far, by their first element
}

func (m *mover) move(spans ...*Span) {
	for _, s := range spans {
		if s.File != 0 {
			continue
		}
		if int(s.Start) >= m.end {
			s.Start = uint32(int(s.Start) + m.shift)
		}
		if int(s.End) >= m.end {
			s.End = uint32(int(s.End) + m.shift)
		}
	}
}

// column moves the places of a curve's keys. Curves that share them go on to.
func (m *mover) column(c *Curve) {
	n := len(c.Spans)
	if n == 0 || c.File != 0 {
		return
	}
	first := &c.Spans[0]
	if known, ok := m.spans[first]; ok && len(known) == n {
		c.Spans = known
		return
	}
	from := 0
	for from < n && int(c.Spans[from]) < m.end {
		from++
	}
	if from < n {
		moved := make([]uint32, n)
		copy(moved, c.Spans[:from])
		for i, at := range c.Spans[from:] {
			if int(at) >= m.end {
				at = uint32(int(at) + m.shift)
			}
			moved[from+i] = at
		}
		c.Spans = moved
	}
	m.spans[first] = c.Spans
}
