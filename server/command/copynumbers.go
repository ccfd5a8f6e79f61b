package command

import (
	"context"

	"curvelint/server/show"
)

// copyNumbers shows numbers to retype. A client with a clipboard of its own
// puts them there instead of asking the server.
func (c *Commands) copyNumbers(ctx context.Context, raw []byte) (any, error) {
	var a show.CopyArguments
	if err := show.ReadArguments(raw, &a, `{"text": ...}`); err != nil {
		return nil, err
	}
	return a, c.client.Say(ctx, a.Text)
}
