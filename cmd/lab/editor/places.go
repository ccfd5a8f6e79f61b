package editor

import (
	"strings"
	"testing"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"
)

// At is a position; both numbers count from 0.
func At(line, column int) protocol.Position {
	return protocol.Position{Line: uint32(line), Character: uint32(column)}
}

// Span is a range from one line and column to another.
func Span(l1, c1, l2, c2 int) protocol.Range {
	return protocol.Range{Start: At(l1, c1), End: At(l2, c2)}
}

// Doc names a document.
func Doc(u uri.URI) protocol.TextDocumentIdentifier { return protocol.TextDocumentIdentifier{URI: u} }

// LineOf returns the line (from 0) on which a text occurs first.
func LineOf(t *testing.T, text, part string) int {
	t.Helper()
	i := strings.Index(text, part)
	if i < 0 {
		t.Fatalf("no %q in the text", part)
	}
	return strings.Count(text[:i], "\n")
}

// LineWith returns the first line after the line of head that holds part.
func LineWith(t *testing.T, text, head, part string) int {
	t.Helper()
	from := LineOf(t, text, head)
	for i, line := range strings.Split(text, "\n")[from:] {
		if strings.Contains(line, part) {
			return from + i
		}
	}
	t.Fatalf("no %q after %q", part, head)
	return 0
}
