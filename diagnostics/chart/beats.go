package chart

import (
	"fmt"
	"math"
	"slices"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/track"
	"curvelint/parse/scene"
)

// beat is a beat on the timeline.
type beat struct {
	first, last float64
	leads       string // "eyes lead head by 2, chest by 4"
}

// beats returns the beats in the range and who leads them.
func (c *timeline) beats() []beat {
	var out []beat
	for _, b := range beatsOf(c.fig) {
		k := beat{c.study.Frame(b.First), c.study.Frame(b.Last), leading(&b)}
		if k.last >= c.first && k.first <= c.last {
			out = append(out, k)
		}
	}
	return out
}

// leading says which group starts a beat, and by how many frames before the two
// next ones.
func leading(b *motion.FigureBeat) string {
	groups := b.Groups()
	starts := make([]int, len(groups))
	for i, g := range groups {
		starts[i] = math.MaxInt
		for _, k := range b.Strokes {
			if k.Group == g {
				starts[i] = min(starts[i], k.Stroke.First)
			}
		}
	}
	together := 0
	for together < len(groups) && starts[together] == starts[0] {
		together++
	}
	if together > 2 {
		return fmt.Sprintf("%d groups start together", together)
	}
	s := groups[0].Name
	if together == 2 {
		s += " and " + groups[1].Name
	}
	for i, word := together, " before "; i < min(len(groups), together+2); i, word = i+1, ", " {
		s += fmt.Sprintf("%s%s by %d", word, groups[i].Name, starts[i]-starts[0])
	}
	return s
}

// beatsOf returns the beats of a figure. The root of a figure that is carried
// moves with what carries it all the time; its way would join all beats to one
// and is left out.
func beatsOf(fig *motion.Figure) []motion.FigureBeat {
	root := fig.GroupOf(fig.Root)
	if fig.Carrier == scene.NoPart || root == nil || len(root.Parts) != 1 {
		return fig.Beats()
	}
	gap := fig.Study().Window(track.HoldSeconds)
	var out []motion.FigureBeat
	for _, b := range fig.Beats() {
		own := slices.DeleteFunc(slices.Clone(b.Strokes), func(k motion.GroupStroke) bool { return k.Group == root })
		for _, k := range own {
			if n := len(out); n > 0 && k.Stroke.First-out[n-1].Last < gap {
				out[n-1].Last = max(out[n-1].Last, k.Stroke.Last)
				out[n-1].Strokes = append(out[n-1].Strokes, k)
				continue
			}
			out = append(out, motion.FigureBeat{First: k.Stroke.First, Last: k.Stroke.Last, Strokes: []motion.GroupStroke{k}})
		}
	}
	return out
}
