package server

import (
	"context"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
)

// large answers messages that are large itself, with less copying than the
// library does, and leaves all else to h.
func (s *Server) large(h jsonrpc2.Handler) jsonrpc2.Handler {
	return func(ctx context.Context, req *jsonrpc2.Request) (any, error) {
		switch req.Method() {
		case protocol.MethodTextDocumentDidOpen:
			var p protocol.DidOpenTextDocumentParams
			if !s.longTexts.Waits(req.Params()) || protocol.Unmarshal(req.Params(), &p) != nil {
				break
			}
			if text, ok := s.longTexts.Take(p.TextDocument.Text); ok {
				s.opened(p.TextDocument.URI, p.TextDocument.Version, text)
				return nil, nil
			}
		case protocol.MethodTextDocumentDocumentSymbol:
			var p protocol.DocumentSymbolParams
			if !s.client.Abilities.NestedSymbols || protocol.Unmarshal(req.Params(), &p) != nil {
				break // the library says what is wrong
			}
			tree, err := s.Outline(ctx, &p)
			if tree == nil {
				return nil, err
			}
			return tree, nil
		}
		return h(ctx, req)
	}
}
