package passes

import (
	"cmp"
	"math"
	"slices"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/body"
)

// Lead is a group in the order of a beat.
type Lead struct {
	Group string
	// Behind is how many frames after the first group of the beat it starts.
	Behind float64
}

// Order is who leads and who follows in one beat, in both passes.
type Order struct {
	// First and Last are display frames of the later pass.
	First, Last float64
	Figure      string // the path of its root
	Was, Became []Lead // by their starts
}

// wave is a beat as one group after another: one move each.
type wave struct {
	fig   *motion.Figure
	moves []*move
}

// waveStart is how far apart in seconds the starts of one wave may be. An audience
// takes what begins within a third of a second for one action; common practice, no
// source.
const waveStart = 0.35

// longest is how long in seconds a stroke of a beat may last: what goes on through
// several beats leads none.
const longest = 1.5

// waves finds the beats of all figures: around the stroke that is seen most, of
// every other group the stroke that overlaps it and starts near it; then around
// the next. A figure that never rests has beats too.
// Key says which moves are of one thing, a group as a rule; moves without take no
// part.
func waves(moves []*move, key func(*move) string) (out []*wave) {
	var own []*move
	keys := map[*move]string{}
	for _, m := range moves {
		if m.runs == [2]int{1, 1} && m.weight > 0 && m.span.length() < longest && m.prominence() >= newProminence {
			if keys[m] = key(m); keys[m] != "" {
				own = append(own, m)
			}
		}
	}
	slices.SortStableFunc(own, func(a, b *move) int { return cmp.Compare(b.weight, a.weight) })
	byTime := slices.Clone(own)
	slices.SortStableFunc(byTime, func(a, b *move) int { return cmp.Compare(a.span.first, b.span.first) })
	taken := map[*move]bool{}
	for _, seed := range own {
		if taken[seed] {
			continue
		}
		w := &wave{fig: seed.pair.fig, moves: []*move{seed}}
		taken[seed] = true
		from, _ := slices.BinarySearchFunc(byTime, seed.span.first-waveStart, func(m *move, t float64) int { return cmp.Compare(m.span.first, t) })
		best := map[string]*move{keys[seed]: seed}
		for _, m := range byTime[from:] {
			if m.span.first > seed.span.first+waveStart {
				break
			}
			if taken[m] || m.pair.fig != w.fig || 2*m.span.common(seed.span) < min(m.span.length(), seed.span.length()) {
				continue
			}
			if b := best[keys[m]]; b == nil || b != seed && m.weight > b.weight {
				best[keys[m]] = m
			}
		}
		for _, m := range byTime[from:] { // in order, not that of the map
			if m != seed && best[keys[m]] == m {
				taken[m] = true
				w.moves = append(w.moves, m)
			}
		}
		slices.SortStableFunc(w.moves, func(a, b *move) int { return cmp.Compare(a.before.start, b.before.start) })
		out = append(out, w)
	}
	return out
}

// ordersChanged returns the beats in which a group leads or follows by a frame
// more or less, and measures the lags of all moves behind their leaders.
func ordersChanged(moves []*move, k *clock) (out []Order) {
	groups := func(m *move) string {
		// A limb is where its hand or foot is; its joints give way to each other.
		if g := m.group(); g != nil && (m.pair.motion == Path) == limb(g) {
			return g.Name
		}
		return ""
	}
	for _, w := range waves(moves, groups) {
		if len(w.moves) < 2 {
			continue
		}
		w.lags(k)
		if o, ok := w.order(k); ok && !slices.ContainsFunc(out, o.within) {
			out = append(out, o)
		}
	}
	slices.SortStableFunc(out, func(a, b Order) int { return cmp.Compare(a.First, b.First) })
	return out
}

// limb reports whether a group carries a hand or foot that is tracked.
func limb(g *motion.Group) bool {
	for i := range g.Figure.Points {
		p := &g.Figure.Points[i]
		if (p.Role == body.HandPoint || p.Role == body.HeelPoint || p.Role == body.ToePoint) && g.Figure.GroupOf(p.Part) == g {
			return true
		}
	}
	return false
}

// order compares the starts within a wave.
func (w *wave) order(k *clock) (o Order, changed bool) {
	var shifts []weighted
	for _, m := range w.moves {
		shifts = append(shifts, weighted{m.own.start, m.weight})
	}
	of, _ := agreement(shifts, 0)
	first, last := math.Inf(1), math.Inf(-1)
	became := make([]float64, len(w.moves))
	for i, m := range w.moves {
		d := m.own.start - of
		if math.Abs(k.frames(d)) < leastFrames || math.Abs(k.frames(m.own.shift()-of)) < leastFrames {
			d = 0
		}
		changed = changed || d != 0
		became[i] = m.before.start + d
		first, last = min(first, m.after.start), max(last, m.after.arrival)
	}
	if !changed {
		return o, false
	}
	o = Order{First: math.Round(k.frameAfter(first)), Last: math.Round(k.frameAfter(last)), Figure: k.after.Scene.Parts[w.fig.Root].Path}
	was := make([]float64, len(w.moves))
	for i, m := range w.moves {
		was[i] = m.before.start
	}
	o.Was, o.Became = w.leads(was, k), w.leads(became, k)
	return o, true
}

// within reports whether another order says the same and more: left and right are
// strokes of their own and one group.
func (o *Order) within(other Order) bool {
	for _, l := range o.Became {
		if !slices.ContainsFunc(other.Became, func(m Lead) bool { return m.Group == l.Group }) {
			return false
		}
	}
	return o.Figure == other.Figure && o.First <= other.Last && o.Last >= other.First
}

// leads orders the groups of a wave by their starts in seconds.
func (w *wave) leads(starts []float64, k *clock) []Lead {
	first := slices.Min(starts)
	out := make([]Lead, len(starts))
	for i, m := range w.moves {
		out[i] = Lead{m.group().Name, math.Round(k.frames(starts[i] - first))}
	}
	slices.SortStableFunc(out, func(a, b Lead) int { return cmp.Compare(a.Behind, b.Behind) })
	return out
}

// likeness is the correlation of speeds from which on one part follows another, and
// farthest by how many seconds it may be behind: beyond, two strokes are merely
// alike. Common practice, no source.
const (
	likeness = 0.8
	farthest = 0.25
)

// lags measures how far each move's speed is behind that of the wave's leader.
func (w *wave) lags(k *clock) {
	lead := w.moves[0]
	for _, m := range w.moves[1:] {
		if m.same && lead.same {
			continue
		}
		a, ok := lead.before.track.LagBehind(lead.before.stroke, m.before.track)
		b, also := lead.after.track.LagBehind(lead.after.stroke, m.after.track)
		if ok && also && min(a.Correlation, b.Correlation) >= likeness && max(math.Abs(a.Seconds), math.Abs(b.Seconds)) <= farthest {
			was, became := k.frames(a.Seconds), k.frames(b.Seconds)
			m.lag = &Quantity{"lag", was, became, "frames", 0, math.Abs(became-was) >= leastLag}
		}
	}
}
