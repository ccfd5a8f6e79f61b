package contact

import (
	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/body"
	"curvelint/parse/scene"
)

// eachLimb calls do with every two-bone limb that moves.
func eachLimb(c *kit.Context, do func(fig *motion.Figure, l body.TwoBone, f motion.Flexion)) {
	for _, fig := range c.Living() {
		for _, l := range fig.Limbs() {
			if c.Ctx.Err() != nil {
				return
			}
			if c.Study.RotationTrack(l.Lower) != nil || c.Study.RotationTrack(l.Upper) != nil {
				do(fig, l, c.Study.Flex(l))
			}
		}
	}
}

// The limits of what bends about one axis, of both checks of hinges.
var (
	otherSide = kit.Limit{Name: "other_side", Value: -0.5, Unit: "ratio",
		Doc:    "a limb bends past straight when the cosine between its axis and the usual one is less: 120 degrees",
		Source: "common practice, no source"}
	sameAxis = kit.Limit{Name: "same_axis", Value: 0.7, Unit: "ratio",
		Doc:    "two axes of a bend whose cosine is less are not one: 45 degrees",
		Source: "common practice, no source"}
	noHingeShare = kit.Limit{Name: "no_hinge_share", Value: 0.25, Unit: "ratio",
		Doc:    "a limb that bends about another axis for more of the time has no hinge",
		Source: "common practice, no source"}
)

// noHinge reports whether a limb has no usual side (a ball joint used both ways) or no
// one axis (a wing that folds and flaps): for noHingeShare of the time it is bent by
// more than the degrees to another side than usual.
func noHinge(f *motion.Flexion, degrees float64) bool {
	wrong := 0
	for i, side := range f.Side {
		if side < sameAxis.Value && f.Angle[i] > degrees {
			wrong++
		}
	}
	return float64(wrong) > noHingeShare.Value*float64(len(f.Side))
}

// hingeChannel is the channel that turns the limb's hinge most between two
// frames, or the upper bone's where the hinge has none.
func hingeChannel(c *kit.Context, l body.TwoBone, a, b int) scene.ChannelID {
	for _, p := range []scene.PartID{l.Lower, l.Upper} {
		if t := c.Study.RotationTrack(p); t != nil {
			if d := c.Study.Drivers(t, a, b); len(d) > 0 {
				return d[0].Channel
			}
		}
	}
	return kit.AnyChannel(c, l.Lower)
}
