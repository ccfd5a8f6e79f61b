package server

import (
	"context"

	"go.lsp.dev/protocol"
)

// DidOpen takes in a text that the client has opened.
func (s *Server) DidOpen(_ context.Context, p *protocol.DidOpenTextDocumentParams) error {
	d := s.session.Open(p.TextDocument.URI, p.TextDocument.Version, p.TextDocument.Text)
	s.changed(d)
	return nil
}
