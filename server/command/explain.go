package command

import (
	"context"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"

	"curvelint/diagnostics/checks"
	"curvelint/server/show"
)

// explained is what an explain command gives back.
type explained struct {
	Markdown string `json:"markdown"`
}

// explain returns the document about a check, and shows it if the client lets
// the server do so.
func (c *Commands) explain(ctx context.Context, raw []byte) (any, error) {
	var a show.ExplainArguments
	if err := show.ReadArguments(raw, &a, `{"check": "even-spacing"}`); err != nil {
		return nil, err
	}
	check := checks.Find(a.Check)
	if check == nil {
		return nil, jsonrpc2.Errorf(jsonrpc2.InvalidParams, "unknown check %q", a.Check)
	}
	if c.client.Abilities.ServesContent {
		c.client.Reveal(ctx, protocol.Location{URI: show.CheckAddress(check.ID)})
	}
	return explained{check.Text()}, nil
}
