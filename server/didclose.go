package server

import (
	"context"

	"go.lsp.dev/protocol"
)

// DidClose forgets the client's version of a text: from now on the file on
// disk counts. A scene inside a folder of the workspace is judged as it is
// there; notes on others go.
func (s *Server) DidClose(_ context.Context, p *protocol.DidCloseTextDocumentParams) error {
	if d := s.session.CloseDoc(p.TextDocument.URI); d != nil {
		s.judging.Closed(d)
	}
	return nil
}

// DidSave needs nothing done: what is saved was open, and known.
func (s *Server) DidSave(context.Context, *protocol.DidSaveTextDocumentParams) error { return nil }
