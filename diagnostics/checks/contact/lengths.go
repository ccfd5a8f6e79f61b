package contact

import (
	"fmt"

	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/body"
	"curvelint/diagnostics/words"
	"curvelint/parse/scene"
)

// rootChannel is the channel that moves the figure's root most between two
// frames, or its first.
func rootChannel(c *kit.Context, fig *motion.Figure, a, b int) scene.ChannelID {
	if t := fig.RootTrack(); t != nil {
		if d := c.Study.Drivers(t, a, b); len(d) > 0 {
			return d[0].Channel
		}
	}
	return kit.AnyChannel(c, fig.Root)
}

// flies reports whether the figure has wings that it moves.
func flies(c *kit.Context, fig *motion.Figure) bool {
	for _, p := range fig.Parts {
		if fig.LabelOf(p).Body == body.Wing && c.Study.RotationTrack(p) != nil {
			return true
		}
	}
	return false
}

// limbShare is the share in a motion from which a channel within the limb is its
// driver.
var limbShare = kit.Limit{Name: "limb_share", Value: 0.1, Unit: "ratio",
	Doc:    "the note sits within the limb where a channel of it has more than this share in the motion",
	Source: "common practice, no source"}

// limbDriver is the channel within the limb of a point in contact that moves it most;
// what moves the whole body counts only where none in the limb does. There must be a
// driver.
func limbDriver(c *kit.Context, fig *motion.Figure, point scene.PartID, drivers []motion.Share) scene.ChannelID {
	limb := fig.GroupOf(point)
	for _, d := range drivers {
		if d.Value > limbShare.Value && limb != nil && fig.GroupOf(c.Study.Scene.Channels[d.Channel].Part) == limb {
			return d.Channel
		}
	}
	return drivers[0].Channel
}

// How large a figure may be in metres, tip to tip, for its file's unit to be
// believed: a bird to a giant. Only what a message says depends on it.
var (
	smallestFigure = kit.Limit{Name: "smallest_figure", Value: 0.01, Unit: "m",
		Doc: "centimetres are not said of a smaller figure, whose unit is not believed", Source: "common practice, no source"}
	largestFigure = kit.Limit{Name: "largest_figure", Value: 30, Unit: "m",
		Doc: "centimetres are not said of a larger figure, whose unit is not believed", Source: "common practice, no source"}
)

// lengthOf writes a length given in figure sizes, in centimetres as well where
// the file knows its unit.
func lengthOf(c *kit.Context, fig *motion.Figure, v float64) string {
	if size := fig.Size * fig.Unit; size >= smallestFigure.Value && size <= largestFigure.Value {
		return fmt.Sprintf("%s (%.1f cm)", words.Length(v), v*fig.Size*fig.Unit*100)
	}
	return words.Length(v)
}
