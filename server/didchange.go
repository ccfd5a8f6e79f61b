package server

import (
	"context"
	"fmt"

	"go.lsp.dev/protocol"

	"curvelint/server/workspace"
)

// DidChange applies the client's edits to an open text.
func (s *Server) DidChange(_ context.Context, p *protocol.DidChangeTextDocumentParams) error {
	changes := make([]workspace.Change, 0, len(p.ContentChanges))
	for _, c := range p.ContentChanges {
		switch c := c.(type) {
		case *protocol.TextDocumentContentChangePartial:
			changes = append(changes, workspace.Change{
				Start: textPosition(c.Range.Start), End: textPosition(c.Range.End), Text: c.Text})
		case *protocol.TextDocumentContentChangeWholeDocument:
			changes = append(changes, workspace.Change{Whole: true, Text: c.Text})
		}
	}
	d := s.session.Change(p.TextDocument.URI, p.TextDocument.Version, s.can.encoding, changes)
	if d == nil {
		return fmt.Errorf("%s was changed but is not open", p.TextDocument.URI)
	}
	s.changed(d)
	return nil
}

// changed judges an open text that is new, and the scenes that read it or that
// it governs.
func (s *Server) changed(d *workspace.Doc) {
	s.follow(d)
	s.giveBack(d)
	s.rejudge(s.session.Refresh([]string{d.Path}), []string{d.Path})
	if d.IsConfig() {
		s.judgeConfig(d.Path)
	}
}
