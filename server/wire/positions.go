package server

import (
	"go.lsp.dev/protocol"

	"curvelint/parse/scene"
	"curvelint/parse/text"
	"curvelint/server/workspace"
)

// position returns the protocol's position of a byte offset.
func (s *Server) position(x *text.Index, offset int) protocol.Position {
	p, _ := x.Position(offset, s.can.encoding)
	return protocol.Position{Line: uint32(p.Line), Character: uint32(p.Column)}
}

// rangeOf returns the protocol's range of the bytes [start, end).
func (s *Server) rangeOf(x *text.Index, start, end int) protocol.Range {
	return protocol.Range{Start: s.position(x, start), End: s.position(x, end)}
}

// spanRange returns the protocol's range of a span.
func (s *Server) spanRange(l *workspace.Lookup, at scene.Span) protocol.Range {
	return s.rangeOf(l.Index(at.File), int(at.Start), int(at.End))
}

// offset returns the byte offset of a position of the client's, kept within
// the text.
func (s *Server) offset(x *text.Index, p protocol.Position) int {
	at, _ := x.Offset(textPosition(p), s.can.encoding)
	return at
}

func textPosition(p protocol.Position) text.Position {
	return text.Position{Line: int(p.Line), Column: int(p.Character)}
}

// location returns where a span of a scene is.
func (s *Server) location(shot *workspace.Shot, at scene.Span) protocol.Location {
	return protocol.Location{URI: s.fileURI(shot.Read, at.File), Range: s.spanRange(shot.Lookup, at)}
}
