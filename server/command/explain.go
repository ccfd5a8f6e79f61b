package server

import (
	"context"
	"net/url"
	"path"
	"strings"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"

	"curvelint/diagnostics/checks"
)

// explainArguments name a check.
type explainArguments struct {
	Check string `json:"check"`
}

// explained is what an explain command gives back.
type explained struct {
	Markdown string `json:"markdown"`
}

// explain returns the document about a check, and shows it if the client lets
// the server do so.
func (s *Server) explain(ctx context.Context, raw []byte) (any, error) {
	var a explainArguments
	if err := arguments(raw, &a, `{"check": "even-spacing"}`); err != nil {
		return nil, err
	}
	c := checks.Find(a.Check)
	if c == nil {
		return nil, jsonrpc2.Errorf(jsonrpc2.InvalidParams, "unknown check %q", a.Check)
	}
	if s.can.servesContent {
		s.reveal(ctx, protocol.Location{URI: docURI(c.ID)})
	}
	return explained{c.Text()}, nil
}

// TextDocumentContent returns a document that the server writes: the one about a
// check, or a comparison with the earlier pass.
func (s *Server) TextDocumentContent(ctx context.Context, p *protocol.TextDocumentContentParams) (*protocol.TextDocumentContentResult, error) {
	address, err := url.Parse(string(p.URI))
	if err != nil || address.Scheme != docScheme {
		return nil, jsonrpc2.Errorf(jsonrpc2.InvalidParams, "expected %s, found %s", docURI("CHECK"), p.URI)
	}
	if text, ok, err := s.comparisonDocument(ctx, address); ok || err != nil {
		return &protocol.TextDocumentContentResult{Text: text}, err
	}
	c := checks.Find(strings.TrimSuffix(path.Base(address.Path), ".md"))
	if c == nil {
		return nil, jsonrpc2.Errorf(jsonrpc2.InvalidParams, "there is no check as in %s", p.URI)
	}
	return &protocol.TextDocumentContentResult{Text: c.Text()}, nil
}
