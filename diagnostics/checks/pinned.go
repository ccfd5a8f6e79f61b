package checks

import (
	"slices"

	"curvelint/diagnostics/motion"
)

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
// pinned limb. A hand that turns by itself at the end of a still arm does not.
func (c *Context) givesWay(fig *motion.Figure, t *motion.Track, a, b int) bool {
	return t.Space == motion.Local && pinned(fig, fig.GroupOf(t.Part), a, b) && !c.turnsHand(fig, t, a, b)
}

// turnsHand reports whether the track is the turning of a hand that the world
// sees, too: the joints above it do not make up for it.
func (c *Context) turnsHand(fig *motion.Figure, t *motion.Track, a, b int) bool {
	if t.Quality != motion.Rotation || !slices.ContainsFunc(fig.Points, func(p motion.Point) bool {
		return p.Role == motion.HandPoint && p.Part == t.Part
	}) {
		return false
	}
	return c.seenTurn(fig, t.Part, a, b) > 0.5*t.PathLength(a, b)
}

// freeBeats are the beats of the figure without the strokes of pinned limbs,
// which would join them: a leg gives way to every shift of the hips.
func freeBeats(fig *motion.Figure) []motion.FigureBeat {
	gap := fig.Study().Window(beatGap)
	var out []motion.FigureBeat
	for _, b := range fig.Beats() {
		if !slices.ContainsFunc(b.Strokes, func(k motion.GroupStroke) bool { return pinned(fig, k.Group, k.Stroke.First, k.Stroke.Last) }) {
			out = append(out, b)
			continue
		}
		n := len(out)
		for _, k := range b.Strokes {
			if pinned(fig, k.Group, k.Stroke.First, k.Stroke.Last) {
				continue
			}
			if last := len(out) - 1; last >= n && k.Stroke.First-out[last].Last < gap {
				out[last].Last = max(out[last].Last, k.Stroke.Last)
				out[last].Strokes = append(out[last].Strokes, k)
				continue
			}
			out = append(out, motion.FigureBeat{First: k.Stroke.First, Last: k.Stroke.Last, Strokes: []motion.GroupStroke{k}})
		}
	}
	return out
}

// beatGap is the pause in seconds that parts two beats.
const beatGap = 0.25
