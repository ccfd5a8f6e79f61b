package wire

import (
	"cmp"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"curvelint/parse/scene"
	"curvelint/parse/text"
)

// Positions turns byte offsets into the protocol's positions and back, in the
// columns that a client counts.
type Positions struct{ Encoding text.Encoding }

// Files are the files of a scene: where each of them is, and its lines.
type Files interface {
	URI(scene.FileID) uri.URI
	Index(scene.FileID) *text.Index
}

// Position returns the protocol's position of a byte offset.
func (p Positions) Position(x *text.Index, offset int) protocol.Position {
	at, _ := x.Position(offset, p.Encoding)
	return protocol.Position{Line: uint32(at.Line), Character: uint32(at.Column)}
}

// Range returns the protocol's range of the bytes [start, end).
func (p Positions) Range(x *text.Index, start, end int) protocol.Range {
	return protocol.Range{Start: p.Position(x, start), End: p.Position(x, end)}
}

// Span returns the protocol's range of a span of a scene.
func (p Positions) Span(of interface {
	Index(scene.FileID) *text.Index
}, at scene.Span) protocol.Range {
	return p.Range(of.Index(at.File), int(at.Start), int(at.End))
}

// Location returns where a span of a scene is.
func (p Positions) Location(of Files, at scene.Span) protocol.Location {
	return protocol.Location{URI: of.URI(at.File), Range: p.Span(of, at)}
}

// Offset returns the byte offset of a position of the client's, kept within
// the text.
func (p Positions) Offset(x *text.Index, at protocol.Position) int {
	offset, _ := x.Offset(TextPosition(at), p.Encoding)
	return offset
}

// TextPosition returns a position of the protocol's as package text has it.
func TextPosition(p protocol.Position) text.Position {
	return text.Position{Line: int(p.Line), Column: int(p.Character)}
}

// Touch reports whether two ranges share a place; ends count.
func Touch(a, b protocol.Range) bool {
	return ComparePositions(a.Start, b.End) <= 0 && ComparePositions(b.Start, a.End) <= 0
}

// ComparePositions orders positions as they stand in a text.
func ComparePositions(a, b protocol.Position) int {
	return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Character, b.Character))
}
