package editor

import (
	"slices"
	"testing"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"curvelint/parse/text"
	"curvelint/server/wire"
)

// Edited applies the edits of one file to a text, as an editor does: from the
// end to the start.
func Edited(t *testing.T, content string, edits []protocol.TextEdit) string {
	t.Helper()
	slices.SortFunc(edits, func(a, b protocol.TextEdit) int { return wire.ComparePositions(b.Range.Start, a.Range.Start) })
	for _, e := range edits {
		x := text.NewIndex([]byte(content))
		a, errA := x.Offset(wire.TextPosition(e.Range.Start), text.UTF8)
		b, errB := x.Offset(wire.TextPosition(e.Range.End), text.UTF8)
		if errA != nil || errB != nil {
			t.Fatalf("edit at %v: %v, %v", e.Range, errA, errB)
		}
		content = content[:a] + e.NewText + content[b:]
	}
	return content
}

// EditsOf returns the edits of a file in an edit of the workspace.
func EditsOf(w *protocol.WorkspaceEdit, u uri.URI) []protocol.TextEdit {
	list := w.Changes[u]
	for _, c := range w.DocumentChanges {
		d, ok := c.(*protocol.TextDocumentEdit)
		if !ok || d.TextDocument.URI != u {
			continue
		}
		for _, e := range d.Edits {
			switch e := e.(type) {
			case *protocol.TextEdit:
				list = append(list, *e)
			case *protocol.AnnotatedTextEdit:
				list = append(list, e.TextEdit)
			}
		}
	}
	return list
}
