package command

import (
	"context"

	"go.lsp.dev/protocol"
)

// applyFix makes a fix by itself, for clients that know actions only as
// commands.
func (c *Commands) applyFix(ctx context.Context, raw []byte) (any, error) {
	a, err := c.features.CodeActionResolve(ctx, &protocol.CodeAction{Data: raw})
	if err != nil {
		return nil, err
	}
	if !c.client.Abilities.ApplyEdit {
		return a.Edit, nil
	}
	return c.client.ApplyEdit(ctx, &protocol.ApplyWorkspaceEditParams{Edit: *a.Edit})
}
