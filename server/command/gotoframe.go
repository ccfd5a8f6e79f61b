package command

import (
	"context"
	"fmt"

	"curvelint/diagnostics/words"
	"curvelint/server/show"
)

// goToFrame returns where the keys on a frame are, and shows them if the
// client lets the server do so.
func (c *Commands) goToFrame(ctx context.Context, raw []byte) (any, error) {
	var a show.FrameArguments
	if err := show.ReadArguments(raw, &a, `{"uri": ..., "frame": 1040, "part": "/Tug/hips"}`); err != nil {
		return nil, err
	}
	shot, err := c.features.OpenShot(ctx, a.URI)
	if err != nil {
		return nil, err
	}
	for _, info := range c.features.FramesFound(shot, a.Frame) {
		if a.Part == "" || info.ContainerName != nil && *info.ContainerName == a.Part {
			c.client.Reveal(ctx, info.Location)
			return info.Location, nil
		}
	}
	return nil, fmt.Errorf("no key on frame %s", words.Frame(a.Frame))
}
