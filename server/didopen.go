package server

import (
	"context"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"
)

// DidOpen takes in a text that the client has opened.
func (s *Server) DidOpen(_ context.Context, p *protocol.DidOpenTextDocumentParams) error {
	s.opened(p.TextDocument.URI, p.TextDocument.Version, []byte(p.TextDocument.Text))
	return nil
}

// opened takes in a text, which is kept.
func (s *Server) opened(u uri.URI, version int32, text []byte) {
	s.judging.Changed(s.session.Open(u, version, text))
}
