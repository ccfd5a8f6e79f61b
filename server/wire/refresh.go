package wire

import (
	"context"
	"time"
)

// refreshPause is how long reasons to ask for notes again are gathered.
const refreshPause = 100 * time.Millisecond

// RefreshNotes tells a client that asks for notes to ask again, once for many
// reasons that come together.
func (c *Client) RefreshNotes() {
	if !c.Abilities.Pull {
		return
	}
	c.Background.GoLatest("refresh notes", func(ctx context.Context) {
		if Sleep(ctx, refreshPause) {
			c.Log.UnlessOver(ctx, c.DiagnosticRefresh(ctx))
		}
	})
}

// RefreshViews lets the client ask again for what hangs on more than the text.
func (c *Client) RefreshViews() {
	c.Background.Go(func(ctx context.Context) {
		if c.Abilities.RefreshHints {
			c.Log.UnlessOver(ctx, c.InlayHintRefresh(ctx))
		}
		if c.Abilities.RefreshLenses {
			c.Log.UnlessOver(ctx, c.CodeLensRefresh(ctx))
		}
		if c.Abilities.RefreshTokens {
			c.Log.UnlessOver(ctx, c.SemanticTokensRefresh(ctx))
		}
	})
}
