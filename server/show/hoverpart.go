package show

import (
	"fmt"

	"curvelint/diagnostics/facts"
	"curvelint/diagnostics/note"
	"curvelint/diagnostics/passes"
	"curvelint/diagnostics/words"
	"curvelint/parse/scene"
)

// HoverPart writes what there is to know of a part as a whole.
func (s *Shot) HoverPart(id scene.PartID) *Sheet {
	part := s.part(id)
	h := &Sheet{name: part.Name, beside: part.Path}
	if m, ok := facts.Biggest(s.Study, id); ok {
		h.fact("biggest move: " + moveText(s.Study, &m))
	}
	if tl, ok := facts.TimelineOf(s.Study, id); ok {
		h.fact(words.Count(len(tl.Moves), "move") + ", " + words.Count(len(tl.Holds), "hold"))
	}
	if s.Earlier != nil {
		h.fact(sinceText(s.Earlier, passes.PartChange(s.Earlier, part.Path)))
	}
	h.notes = s.noteLines(func(n *note.Note) bool { return n.PartID == id })
	if s.Earlier != nil {
		h.notes = append(h.notes, fixedLines(s.Earlier, part.Path)...)
	}
	return h
}

// HoverChannel writes what there is to know of a channel that has keys: those, and
// its part.
func (s *Shot) HoverChannel(id scene.ChannelID) *Sheet {
	c := &s.Study.Scene.Channels[id]
	h := s.HoverPart(c.Part)
	times := c.Curve.Times
	h.beside = fmt.Sprintf("%s, %s on %s", c.Name, words.Count(len(times), "key"), words.Span(times[0], times[len(times)-1]))
	return h
}
