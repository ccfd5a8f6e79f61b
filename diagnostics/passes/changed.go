package passes

import (
	"cmp"
	"context"
	"math"
	"slices"

	"curvelint/parse/scene"
)

// Move is one stroke that changed, or is new or gone.
type Move struct {
	Motion Motion
	// First and Last are display frames of the later pass, Was those of the
	// earlier; where the stroke is new or gone, the two are alike.
	First, Last float64
	Was         [2]float64
	New, Gone   bool
	// Strokes are how many strokes it is in each pass: a stutter that was
	// smoothed is 2 and 1.
	Strokes [2]int
	// Quantities are its measures; Changed tells which differ beyond noise.
	// None for a stroke that is new or gone.
	Quantities []Quantity
	// Weight ranks moves: how far the audience sees it move, times how much it
	// changed.
	Weight float64
}

// Part is a part that changed.
type Part struct {
	Name         string
	Path, Before string // in the later and the earlier pass
	Figure       string // the path of its figure's root, "" for none
	Tracked      bool   // it carries a tracked point
	Moves        []Move // by frames
	// Holds are those of its tracked point that changed while the figure does
	// not hold as a whole, by frames.
	Holds []Hold
	// Mean and Most are how far its pose is from that of the earlier pass, on
	// average and at most, in picture heights (HasPicture) or figure sizes; At
	// is the display frame of the later pass where it is most.
	Mean, Most, At float64
	Weight         float64
}

// standsElsewhere is the mean difference of pose from which on a part that moves
// as before is said to have changed: 1 % of the picture's height or of figure size.
const standsElsewhere = 0.01

// changedParts gathers what changed by part, in order of what is seen most.
func changedParts(ctx context.Context, moves []*move, list []*matchedTrack, whole []Hold, k *clock, seen *sight, o Options) []Part {
	byPart := map[scene.PartID]*Part{}
	var order []*Part
	part := func(p *trackPair) *Part {
		if q := byPart[p.part]; q != nil {
			return q
		}
		q := &Part{Name: p.name, Path: k.after.Scene.Parts[p.part].Path, Before: k.before.Scene.Parts[p.partBefore].Path}
		if p.fig != nil {
			q.Figure = k.after.Scene.Parts[p.fig.Root].Path
		}
		byPart[p.part] = q
		order = append(order, q)
		return q
	}
	beat := map[scene.PartID]bool{}
	for _, m := range moves {
		beat[m.pair.part] = beat[m.pair.part] || m.inBeat
		if c, ok := m.change(k); ok {
			q := part(m.pair.trackPair)
			q.Moves = append(q.Moves, c)
			q.Weight += c.Weight
		}
	}
	first, last := k.span(o)
	for _, p := range list {
		if ctx.Err() != nil {
			break
		}
		if holds := pointHolds(p, whole, k, o); len(holds) > 0 {
			q := part(p.trackPair)
			q.Holds = holds
			q.Weight += standsElsewhere * float64(len(holds))
		}
		mean, most, when := seen.difference(p.trackPair, k, first, last)
		if byPart[p.part] == nil && (p.motion != Path || beat[p.part] || mean < standsElsewhere) {
			continue
		}
		q := part(p.trackPair)
		if len(q.Moves) == 0 {
			q.Weight = max(q.Weight, mean)
		}
		switch {
		case p.motion == Path:
			q.Name, q.Tracked = p.name, true
			q.Mean, q.Most, q.At = mean, most, math.Round(k.frameAfter(when))
		case mean > q.Mean && !q.Tracked: // points come first
			q.Mean, q.Most, q.At = mean, most, math.Round(k.frameAfter(when))
		}
	}
	out := make([]Part, 0, len(order))
	for _, q := range order {
		if o.Match != nil && !o.Match(q.Path) && !o.Match(q.Before) {
			continue
		}
		slices.SortStableFunc(q.Moves, func(a, b Move) int { return cmp.Compare(a.First, b.First) })
		out = append(out, *q)
	}
	slices.SortStableFunc(out, func(a, b Part) int { return cmp.Compare(b.Weight, a.Weight) })
	return out
}

// span is what is compared: what both passes cover, cut to the frames asked for.
func (k *clock) span(o Options) (first, last float64) {
	first, last = k.common()
	if o.HasRange {
		first = max(first, k.timeAfter(o.First-k.after.First))
		last = min(last, k.timeAfter(o.Last-k.after.First))
	}
	return first, last
}

// change returns what changed about a move; ok is false when nothing did.
func (m *move) change(k *clock) (c Move, ok bool) {
	c = Move{Motion: m.pair.motion, Strokes: m.runs}
	side := func(x *measured, base float64, index func(float64) float64) [2]float64 {
		return [2]float64{base + math.Round(index(x.start)), base + math.Round(index(x.arrival))}
	}
	var is [2]float64
	switch {
	case m.same:
		return c, false
	case m.before == nil:
		c.New = true
		is = side(m.after, k.after.First, k.indexAfter)
		c.Was = is
	case m.after == nil:
		c.Gone = true
		c.Was = side(m.before, k.before.First, k.indexBefore)
		is = c.Was
	default:
		c.Was, is = side(m.before, k.before.First, k.indexBefore), side(m.after, k.after.First, k.indexAfter)
		c.Quantities = quantities(m.before, m.after, m.own, k)
		if m.lag != nil {
			c.Quantities = append(c.Quantities, *m.lag)
		}
	}
	c.First, c.Last = is[0], is[1]
	if c.New || c.Gone {
		if m.prominence() < newProminence {
			return c, false
		}
		c.Weight = m.weight * 2
		return c, true
	}
	for i := range c.Quantities {
		if q := &c.Quantities[i]; q.Changed {
			c.Weight += m.weight * q.weight()
		}
	}
	return c, c.Weight > 0 || slices.ContainsFunc(c.Quantities, func(q Quantity) bool { return q.Changed })
}

// newProminence is how much a stroke must move to be told as new or gone, in the
// measure of motion.Track.Prominence: 0.05 figure sizes, 3 degrees, a tenth of a
// range.
const newProminence = 1

func (m *move) prominence() float64 {
	if m.before != nil {
		return m.before.track.Prominence(m.before.stroke)
	}
	return m.after.track.Prominence(m.after.stroke)
}
