package checks

import "curvelint/diagnostics/motion"

// standsStill is how far, in figure sizes, the end of a limb may go for it to
// count as held where it is.
const standsStill = 0.015

// pinned reports whether the group is a limb whose hand or foot keeps its place
// from frame index a to b. Its joints then only give way to what the body does:
// what shows in them is the body's.
func pinned(fig *motion.Figure, g *motion.Group, a, b int) bool {
	if g == nil || (g.Label.Body != motion.Arm && g.Label.Body != motion.Leg) {
		return false
	}
	for i, p := range fig.Points {
		switch p.Role {
		case motion.HandPoint, motion.HeelPoint, motion.ToePoint, motion.TipPoint:
			if fig.GroupOf(p.Part) == g && fig.CarriedTrack(i).PathLength(a, b) < standsStill {
				return true
			}
		}
	}
	return false
}

// givesWay reports whether a track shows in the frames a to b a joint of a
// pinned limb.
func givesWay(fig *motion.Figure, t *motion.Track, a, b int) bool {
	return t.Space == motion.Local && pinned(fig, fig.GroupOf(t.Part), a, b)
}

// freeStrokes are the strokes of a beat but those of pinned limbs.
func freeStrokes(fig *motion.Figure, b *motion.FigureBeat) motion.FigureBeat {
	out := motion.FigureBeat{First: b.First, Last: b.Last}
	for _, k := range b.Strokes {
		if !pinned(fig, k.Group, k.Stroke.First, k.Stroke.Last) {
			out.Strokes = append(out.Strokes, k)
		}
	}
	return out
}
