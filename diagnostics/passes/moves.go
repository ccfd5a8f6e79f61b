package passes

import (
	"context"
	"math"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/body"
)

// move is a stroke in both passes, measured.
type move struct {
	pair          *matchedTrack
	before, after *measured // nil for a stroke that is new, or gone
	runs          [2]int    // how many strokes it is in each pass
	timing        timing    // seconds, the shift of the shot taken off
	own           timing    // without what its beat says
	inBeat        bool      // a beat says by how much it comes later
	same          bool      // the two are equal within noise
	lag           *Quantity // behind the leading part of its beat, or nil
	weight        float64
	span          span // of the earlier pass, or where it would be; seconds
}

// measureAll measures all strokes that lie in what both passes cover, in the order
// of the pairs and of time.
func (c *Comparison) measureAll(ctx context.Context, list []*matchedTrack, k *clock, seen *sight, o Options) []*move {
	first, last := k.common()
	loB, hiB := int(math.Ceil(k.indexBefore(first)-1e-6)), int(math.Floor(k.indexBefore(last)+1e-6))
	loA, hiA := int(math.Ceil(k.indexAfter(first)-1e-6)), int(math.Floor(k.indexAfter(last)+1e-6))
	var out []*move
	for _, p := range list {
		if ctx.Err() != nil {
			break
		}
		for i := range p.strokes {
			m := &move{pair: p, runs: [2]int{len(p.strokes[i].before), len(p.strokes[i].after)}}
			if m.runs[0] > 0 {
				if a, ok := measure(p.before, p.strokes[i].before, loB, hiB, k.timeBefore); ok {
					m.before = &a
				}
			}
			if m.runs[1] > 0 {
				if b, ok := measure(p.after, p.strokes[i].after, loA, hiA, k.timeAfter); ok {
					m.after = &b
				}
			}
			if m.settle(k, seen) && k.within(m.span.first, m.span.last, o) {
				out = append(out, m)
				if m.before != nil && m.after != nil {
					c.Compared++
				}
			}
		}
	}
	return out
}

// settle completes a move; it returns false when a side of it lies outside what
// both passes cover.
func (m *move) settle(k *clock, seen *sight) bool {
	if m.before == nil && m.runs[0] > 0 || m.after == nil && m.runs[1] > 0 {
		return false
	}
	switch {
	case m.before == nil:
		m.span = span{m.after.start, m.after.arrival}
	case m.after == nil:
		m.span = span{m.before.start, m.before.arrival}
	default:
		m.span = span{m.before.start, m.before.arrival}
		m.timing = compareTiming(m.before, m.after, k.near())
	}
	m.same = m.pair.same || m.pair.equal(k, m.lo(), m.hi())
	if m.same {
		m.timing = timing{}
	}
	m.own = m.timing
	m.weight = seen.ofPair(m.pair.trackPair, m.before, m.after)
	if m.pair.motion != Path && tracked(m.group()) {
		m.weight *= joint
	}
	return true
}

// joint is what the turn of a joint weighs whose group carries a tracked point: the
// audience sees where the hand goes, not how the elbow takes it there.
const joint = 0.3

func tracked(g *motion.Group) bool {
	if g == nil {
		return false
	}
	for i := range g.Figure.Points {
		if p := &g.Figure.Points[i]; p.Role != body.RootPoint && g.Figure.GroupOf(p.Part) == g {
			return true
		}
	}
	return false
}

// lo and hi are the ends of a move in both passes, seconds.
func (m *move) lo() float64 {
	if m.after != nil {
		return min(m.span.first, m.after.start)
	}
	return m.span.first
}

func (m *move) hi() float64 {
	if m.after != nil {
		return max(m.span.last, m.after.arrival)
	}
	return m.span.last
}

// group is the group that the move's part belongs to, or nil.
func (m *move) group() *motion.Group {
	if m.pair.fig == nil {
		return nil
	}
	return m.pair.fig.GroupOf(m.pair.part)
}
