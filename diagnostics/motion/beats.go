package motion

import (
	"slices"

	"curvelint/diagnostics/motion/body"
	"curvelint/diagnostics/motion/clip"
)

// FigureBeat is a stretch of time in which a figure's strokes overlap or follow
// each other within a quarter of a second.
type FigureBeat struct {
	First, Last int
	Strokes     []GroupStroke
}

// beatGap is the longest pause inside a beat, in seconds.
const beatGap = 0.25

// Beats returns the beats of the figure, from the strokes of all its living
// groups. What carries the body has no part in them: a deck that rolls on and
// on would join all beats into one.
func (fig *Figure) Beats() []FigureBeat {
	fig.beatsOnce.Do(func() {
		var all []GroupStroke
		for _, g := range fig.Groups {
			if fig.study.NatureOf(g.Top()) == Living && !g.carriesBody() {
				all = append(all, g.Strokes()...)
			}
		}
		all = byFirst(all)
		gap := clip.Window(fig.study.Rate, beatGap)
		first, last := 0, 0 // the beat is all[first:i], and reaches frame last
		for i, k := range all {
			if i > first && k.Stroke.First-last >= gap {
				fig.beats = append(fig.beats, FigureBeat{all[first].Stroke.First, last, all[first:i:i]})
				first, last = i, 0
			}
			last = max(last, k.Stroke.Last)
		}
		if first < len(all) {
			fig.beats = append(fig.beats, FigureBeat{all[first].Stroke.First, last, all[first:]})
		}
	})
	return fig.beats
}

// byFirst sorts strokes by their first frames, those of one frame as they stand.
// It sorts what tells the order, which is a tenth of what is to be ordered.
func byFirst(all []GroupStroke) []GroupStroke {
	order := make([]uint64, len(all))
	for i := range all {
		order[i] = uint64(all[i].Stroke.First)<<32 | uint64(i)
	}
	slices.Sort(order)
	out := make([]GroupStroke, len(all))
	for i, k := range order {
		out[i] = all[uint32(k)]
	}
	return out
}

// Groups returns the groups that move in the beat, in the order of their first
// starts.
func (b *FigureBeat) Groups() []*Group {
	var out []*Group
	for _, k := range b.Strokes {
		if !slices.Contains(out, k.Group) {
			out = append(out, k.Group)
		}
	}
	return out
}

// carriesBody reports whether the group is what carries the body: parts above the
// hips that belong to no body, like a deck that is the root of the figure on it.
func (g *Group) carriesBody() bool {
	core := g.Figure.Core()
	for _, p := range g.Parts {
		if p == core || g.Figure.LabelOf(p).Body != body.NoBody || !g.Figure.study.IsAncestor(p, core) {
			return false
		}
	}
	return true
}
