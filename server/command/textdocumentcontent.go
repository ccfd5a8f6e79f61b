package command

import (
	"context"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"

	"curvelint/diagnostics/checks"
	"curvelint/server/show"
)

// TextDocumentContent returns a document that the server writes: the one about a
// check, or a comparison with the earlier pass.
func (c *Commands) TextDocumentContent(ctx context.Context, p *protocol.TextDocumentContentParams) (*protocol.TextDocumentContentResult, error) {
	id, compared, ok := show.ReadAddress(p.URI)
	switch {
	case !ok:
		return nil, jsonrpc2.Errorf(jsonrpc2.InvalidParams, "expected %s, found %s", show.CheckAddress("CHECK"), p.URI)
	case compared != "":
		shot, err := c.features.OpenShot(ctx, compared)
		if err != nil {
			return nil, err
		}
		full, _, err := c.comparison(ctx, shot)
		return &protocol.TextDocumentContentResult{Text: full.Text}, err
	}
	check := checks.Find(id)
	if check == nil {
		return nil, jsonrpc2.Errorf(jsonrpc2.InvalidParams, "there is no check as in %s", p.URI)
	}
	return &protocol.TextDocumentContentResult{Text: check.Text()}, nil
}
