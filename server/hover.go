package server

import (
	"context"
	"fmt"
	"strings"

	"go.lsp.dev/protocol"

	"curvelint/diagnostics/facts"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
	"curvelint/server/workspace"
)

// Hover tells what there is to know of the key under the cursor; on a header,
// of the channel or part.
func (s *Server) Hover(ctx context.Context, p *protocol.HoverParams) (*protocol.Hover, error) {
	shot, err := s.shot(ctx, p.TextDocument.URI)
	if shot == nil {
		return nil, err
	}
	at := s.offset(shot.Doc.Index, p.Position)
	var lines []string
	var where scene.Span
	if place, ok := shot.Lookup.KeyAt(0, at); ok {
		lines, where = s.keyHover(shot, place), place.Span
	} else if id := shot.Lookup.HeaderAt(0, at); id != scene.NoPart {
		lines, where = partHover(shot, id), shot.Scene.Parts[id].Def
	}
	if len(lines) == 0 {
		return nil, nil
	}
	r := s.spanRange(shot.Lookup, where)
	return &protocol.Hover{Contents: s.markup(lines), Range: &r}, nil
}

// keyHover writes what there is to know of a key, one line each.
func (s *Server) keyHover(shot *workspace.Shot, place workspace.Place) []string {
	c := &shot.Scene.Channels[place.Channel]
	frame := c.Curve.Times[place.Key]
	k := facts.At(shot.Study, place.Channel, frame)
	part := &shot.Scene.Parts[k.Part]
	lines := []string{fmt.Sprintf("**%s** frame %s, %s", part.Name, number(frame), valueText(c, &k, place.Component))}
	if k.HasWorld {
		lines = append(lines, fmt.Sprintf("in the world at (%s, %s, %s)", number3(k.World.X), number3(k.World.Y), number3(k.World.Z)))
	}
	for i := range k.Tracks {
		lines = append(lines, trackLines(shot.Study, &k, i)...)
	}
	if k.HasLag {
		lines = append(lines, lagText(k.Lag))
	}
	if len(k.Starts) > 1 {
		lines = append(lines, startsText(k.Starts))
	}
	return append(lines, noteLines(shot, func(n *note.Note) bool {
		return concerns(shot, n, k.Part) && n.First <= frame && frame <= n.Last
	})...)
}

// partHover writes what there is to know of a part as a whole.
func partHover(shot *workspace.Shot, id scene.PartID) []string {
	part := &shot.Scene.Parts[id]
	lines := []string{fmt.Sprintf("**%s** %s", part.Name, part.Path)}
	if m, ok := facts.Biggest(shot.Study, id); ok {
		lines = append(lines, "biggest move: "+moveText(shot.Study, &m))
	}
	if tl, ok := facts.TimelineOf(shot.Study, id); ok {
		lines = append(lines, fmt.Sprintf("%s, %s", count(len(tl.Moves), "move"), count(len(tl.Holds), "hold")))
	}
	return append(lines, noteLines(shot, func(n *note.Note) bool { return n.PartID == id })...)
}

// concerns reports whether a note is about a part: on it, on a channel of it,
// or with a related place on it.
func concerns(shot *workspace.Shot, n *note.Note, p scene.PartID) bool {
	if n.PartID == p {
		return true
	}
	path := shot.Scene.Parts[p].Path
	for i := range n.Related {
		if n.Related[i].Part == path {
			return true
		}
	}
	return false
}

// noteLines writes the notes for which about holds.
func noteLines(shot *workspace.Shot, about func(*note.Note) bool) []string {
	var lines []string
	for i := range shot.Notes {
		if n := &shot.Notes[i]; about(n) {
			lines = append(lines, fmt.Sprintf("%s: %s [%s]", n.Severity, n.Message, n.Check))
		}
	}
	return lines
}

// markup turns lines into what the client can show.
func (s *Server) markup(lines []string) *protocol.MarkupContent {
	if s.can.markdown {
		return &protocol.MarkupContent{Kind: protocol.MarkupKindMarkdown, Value: strings.Join(lines, "  \n")}
	}
	plain := strings.NewReplacer("**", "", "`", "").Replace(strings.Join(lines, "\n"))
	return &protocol.MarkupContent{Kind: protocol.MarkupKindPlainText, Value: plain}
}
