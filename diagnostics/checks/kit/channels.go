package kit

import (
	"curvelint/parse/scene"
)

// MovingChannel is the first channel of the part that changes, or NoChannel.
func MovingChannel(c *Context, p scene.PartID) scene.ChannelID {
	for _, t := range c.Study.LocalTracks(p) {
		if d := c.Study.Drivers(t, 0, c.Study.N-1); len(d) > 0 {
			return d[0].Channel
		}
	}
	return AnyChannel(c, p)
}
