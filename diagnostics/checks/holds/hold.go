package holds

import (
	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/motion"
	"curvelint/parse/scene"
)

// hold is a stretch of frames in which something stands still: positions first
// to last.
type hold struct{ first, last int }

// strokeBefore finds the channel that moved most in the strokes that end where
// the hold begins, at p or below it; else p's own first channel.
func strokeBefore(c *kit.Context, fig *motion.Figure, p scene.PartID, at int) (scene.PartID, scene.ChannelID) {
	s := c.Study
	slack := s.Window(4.0 / 24)
	best, track, stroke := 0.0, (*motion.Track)(nil), motion.Stroke{}
	for _, q := range fig.Parts {
		if !s.IsAncestor(p, q) {
			continue
		}
		for _, t := range s.LocalTracks(q) {
			for _, k := range t.Strokes() {
				if k.Last > at+1 || k.Last < at-slack {
					continue
				}
				if v := t.Prominence(k); v > best*(1+rounding) { // of equal ones the highest
					best, track, stroke = v, t, k
				}
			}
		}
	}
	if track == nil {
		if ids := s.Channels(p); len(ids) > 0 {
			return p, ids[0]
		}
		return p, scene.NoChannel
	}
	if d := s.Drivers(track, stroke.First, stroke.Last); len(d) > 0 {
		return track.Part, d[0].Channel
	}
	return track.Part, scene.NoChannel
}

// rounding is the relative difference below which two lengths are the same.
const rounding = 1e-9
