package command

import (
	"context"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
)

// revealPlace shows a place, such as the reason of an allowance just written.
func (c *Commands) revealPlace(ctx context.Context, raw []byte) (any, error) {
	var at protocol.Location
	if err := protocol.Unmarshal(raw, &at); err != nil {
		return nil, jsonrpc2.Errorf(jsonrpc2.InvalidParams, "expected a location: %v", err)
	}
	c.client.Reveal(ctx, at)
	return nil, nil
}
