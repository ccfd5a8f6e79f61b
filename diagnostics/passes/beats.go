package passes

import (
	"cmp"
	"math"
	"slices"

	"curvelint/diagnostics/motion"
)

// Beat is a stretch of a figure's motion that comes sooner or later as one.
type Beat struct {
	// First and Last are display frames of the later pass, Was those of the
	// earlier.
	First, Last float64
	Was         [2]float64
	// Figure is the path of the figure's root.
	Figure string
	// Groups are the groups that move so, by their first starts.
	Groups []string
	// Everything is true when nothing else of the figure moves meanwhile.
	Everything bool
	// Start, Peak and Arrival are by how many frames it starts, peaks and
	// arrives later, negative for sooner.
	Start, Peak, Arrival float64

	moves []*move
}

// beatGap is the longest pause inside a beat, in seconds.
const beatGap = 0.25

// nearFrames is by how many frames the parts of one beat may differ.
const nearFrames = 1.25

// beatsMoved returns the beats whose timing changed: strokes of several groups
// that follow each other and come sooner or later by nearly the same. One group
// that moves alone is no beat; its strokes say so.
func beatsMoved(moves []*move, k *clock) []Beat {
	byFigure := map[*motion.Figure][]*move{}
	for _, m := range moves {
		if m.before != nil && m.after != nil && m.pair.fig != nil {
			byFigure[m.pair.fig] = append(byFigure[m.pair.fig], m)
		}
	}
	var out []Beat
	for _, fig := range k.after.Figures() {
		list := byFigure[fig]
		for _, c := range clusters(list, k) {
			if b, ok := newBeat(fig, c, list, k); ok {
				out = append(out, b)
			}
		}
	}
	slices.SortStableFunc(out, func(a, b Beat) int { return cmp.Compare(a.First, b.First) })
	return out
}

// cluster is a run of moves with nearly the same shift.
type cluster struct {
	moves  []*move
	span   span
	sum    float64 // of shift by weight
	weight float64
}

func (c *cluster) mean() float64 { return c.sum / c.weight }

// clusters gathers moves that are shifted by a frame or more.
func clusters(list []*move, k *clock) []*cluster {
	var shifted []*move
	for _, m := range list {
		if math.Abs(k.frames(m.timing.shift())) >= leastFrames {
			shifted = append(shifted, m)
		}
	}
	slices.SortStableFunc(shifted, func(a, b *move) int { return cmp.Compare(a.span.first, b.span.first) })
	var out []*cluster
	for _, m := range shifted {
		shift := m.timing.shift()
		weight := max(m.weight, 1e-9)
		var into *cluster
		for i := len(out) - 1; i >= 0 && into == nil; i-- {
			c := out[i]
			if m.span.first-c.span.last < beatGap && math.Abs(k.frames(shift-c.mean())) <= nearFrames {
				into = c
			}
		}
		if into == nil {
			into = &cluster{span: m.span}
			out = append(out, into)
		}
		into.moves = append(into.moves, m)
		into.span.last = max(into.span.last, m.span.last)
		into.sum += shift * weight
		into.weight += weight
	}
	return out
}

// newBeat makes a beat of a cluster; ok is false when it is none: a beat has two
// groups or more, the focus among them or half of those that move meanwhile, or
// is a figure's only group.
func newBeat(fig *motion.Figure, c *cluster, list []*move, k *clock) (b Beat, ok bool) {
	groups := groupsOf(c.moves)
	meanwhile, all := map[*motion.Group]bool{}, map[*motion.Group]bool{}
	rest, total := 0.0, 0.0
	for _, m := range list {
		g := m.group()
		all[g] = true
		if middle := (m.span.first + m.span.last) / 2; middle >= c.span.first && middle <= c.span.last {
			meanwhile[g] = true
			total += m.weight
			if math.Abs(k.frames(m.timing.shift()-c.mean())) > nearFrames {
				rest += m.weight
			}
		}
	}
	focus := fig.FocusGroup()
	enough := len(groups) >= 2 && (2*len(groups) >= len(meanwhile) || focus != nil && slices.Contains(groups, focus))
	if !enough && len(all) > 1 {
		return b, false
	}
	b = Beat{Figure: k.after.Scene.Parts[fig.Root].Path, Everything: rest <= 0.1*total, moves: c.moves}
	for _, g := range groups {
		if g != nil {
			b.Groups = append(b.Groups, g.Name)
		}
	}
	b.place(k)
	return b, true
}

// place finds the frames of a beat and by how much it starts and arrives later,
// and takes that off its moves.
func (b *Beat) place(k *clock) {
	was, is := span{math.Inf(1), math.Inf(-1)}, span{math.Inf(1), math.Inf(-1)}
	var starts, middles, arrivals []weighted
	// A path adds up what moves and what does not; the parts' own motions tell.
	own := slices.ContainsFunc(b.moves, func(m *move) bool { return m.pair.motion != Path })
	for _, m := range b.moves {
		was = span{min(was.first, m.before.start), max(was.last, m.before.arrival)}
		is = span{min(is.first, m.after.start), max(is.last, m.after.arrival)}
		w := max(m.weight, 1e-9)
		for i, list := range []*[]weighted{&starts, &middles, &arrivals} {
			t := [3]float64{m.timing.start, m.timing.middle, m.timing.arrival}[i]
			if m.timing.sure[i] && (m.pair.motion != Path || !own) {
				*list = append(*list, weighted{t, w})
			}
		}
	}
	var of timing
	of.start, _ = agreement(starts, 0)
	of.middle, _ = agreement(middles, 0)
	of.arrival, _ = agreement(arrivals, 0)
	b.Start, b.Peak, b.Arrival = k.frames(of.start), k.frames(of.middle), k.frames(of.arrival)
	b.First, b.Last = math.Round(k.frameAfter(is.first)), math.Round(k.frameAfter(is.last))
	b.Was = [2]float64{k.before.First + math.Round(k.indexBefore(was.first)), k.before.First + math.Round(k.indexBefore(was.last))}
	near := nearFrames / k.after.Rate
	rest := func(own, of float64) float64 {
		if math.Abs(own-of) <= near {
			return 0
		}
		return own - of
	}
	for _, m := range b.moves {
		m.inBeat = true
		m.own = timing{start: rest(m.timing.start, of.start), middle: rest(m.timing.middle, of.middle), arrival: rest(m.timing.arrival, of.arrival)}
		for i, own := range []*float64{&m.own.start, &m.own.middle, &m.own.arrival} {
			if !m.timing.sure[i] {
				*own = 0
			}
		}
	}
}

// groupsOf returns the groups of moves by their first starts; nil stands for parts
// outside all groups.
func groupsOf(moves []*move) (out []*motion.Group) {
	sorted := slices.Clone(moves)
	slices.SortStableFunc(sorted, func(a, b *move) int { return cmp.Compare(a.after.start, b.after.start) })
	for _, m := range sorted {
		if g := m.group(); !slices.Contains(out, g) {
			out = append(out, g)
		}
	}
	return out
}
