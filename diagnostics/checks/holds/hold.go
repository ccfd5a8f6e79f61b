package holds

import (
	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/track"
	"curvelint/parse/scene"
)

// hold is a stretch of frames in which something stands still: positions first
// to last.
type hold struct{ first, last int }

// The limits of what stands still.
var (
	beforeHold = kit.Limit{Name: "before_hold", Value: 4.0 / 24, Unit: "s",
		Doc:    "what ended so long before a hold brought it about",
		Source: "common practice, no source"}
	sameTime = kit.Limit{Name: "same_time", Value: 0.5, Unit: "ratio",
		Doc:    "what takes up more than this share of a hold takes it up: a contact that explains it, the hold of a part above, that of the whole figure",
		Source: "common practice, no source"}
)

// mostly reports whether so many spacings of all that a hold has are enough to
// speak for the hold.
func mostly(spacings, all int) bool { return float64(spacings) > sameTime.Value*float64(all) }

// strokeBefore finds the channel that moved most in the strokes that end where
// the hold begins, at p or below it; else p's own first channel.
func strokeBefore(c *kit.Context, fig *motion.Figure, p scene.PartID, at int) (scene.PartID, scene.ChannelID) {
	s := c.Study
	slack := beforeHold.Frames(s.Rate)
	best, path, stroke := 0.0, (*track.Track)(nil), track.Stroke{}
	for _, q := range fig.Parts {
		if !s.IsAncestor(p, q) {
			continue
		}
		for _, t := range s.LocalTracks(q) {
			for _, k := range t.Strokes() {
				if k.Last > at+1 || k.Last < at-slack {
					continue
				}
				if v := t.Prominence(k); v > best*(1+kit.Rounding.Value) { // of equal ones the highest
					best, path, stroke = v, t, k
				}
			}
		}
	}
	if path == nil {
		if ids := s.Channels(p); len(ids) > 0 {
			return p, ids[0]
		}
		return p, scene.NoChannel
	}
	if d := s.Drivers(path, stroke.First, stroke.Last); len(d) > 0 {
		return path.Part, d[0].Channel
	}
	return path.Part, scene.NoChannel
}
