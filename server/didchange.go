package server

import (
	"context"
	"fmt"

	"go.lsp.dev/protocol"

	"curvelint/server/wire"
	"curvelint/server/workspace"
)

// DidChange applies the client's edits to an open text.
func (s *Server) DidChange(_ context.Context, p *protocol.DidChangeTextDocumentParams) error {
	changes := make([]workspace.Change, 0, len(p.ContentChanges))
	for _, c := range p.ContentChanges {
		switch c := c.(type) {
		case *protocol.TextDocumentContentChangePartial:
			changes = append(changes, workspace.Change{
				Start: wire.TextPosition(c.Range.Start), End: wire.TextPosition(c.Range.End), Text: c.Text})
		case *protocol.TextDocumentContentChangeWholeDocument:
			changes = append(changes, workspace.Change{Whole: true, Text: c.Text})
		}
	}
	d := s.session.Change(p.TextDocument.URI, p.TextDocument.Version, s.client.Abilities.Encoding, changes)
	if d == nil {
		return fmt.Errorf("%s was changed but is not open", p.TextDocument.URI)
	}
	s.judging.Changed(d)
	return nil
}
