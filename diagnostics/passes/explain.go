package passes

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion/track"
)

// mixed is how far a pose may be off the way that a beat's shift takes it, in the
// units of the qualities, and still come from nothing else. Where a beat slides
// over motion that stays, the two add up to new shapes: of the demo's retimed pass
// all of them stay below.
func mixed(q track.Quality) float64 {
	switch q {
	case track.Rotation:
		return 1.5
	case track.Value:
		return 0.02
	}
	return 0.005
}

// explain marks the moves of a figure whose change comes from a beat that slid:
// their pose is, at each frame, one that the earlier pass had within the shift.
func explain(beats []Beat, moves []*move, k *clock) {
	for i := range beats {
		b := &beats[i]
		slid := span{math.Inf(1), math.Inf(-1)}
		for _, m := range b.moves {
			slid = span{min(slid.first, m.lo()), max(slid.last, m.hi())}
		}
		reach := max(math.Abs(b.Start), math.Abs(b.Arrival)) / k.after.Rate
		for _, m := range moves {
			if m.pair.fig != b.moves[0].pair.fig || m.same || m.before == nil && m.after == nil {
				continue
			}
			if (span{m.lo(), m.hi()}).common(slid) > 0 && m.pair.slides(k, m.lo(), m.hi(), reach) {
				m.same = true
			}
		}
	}
}

// slides reports whether every pose of the later pass between two times is one that
// the earlier pass has at most reach seconds before or after.
func (p *trackPair) slides(k *clock, first, last, reach float64) bool {
	if p.turned {
		return false
	}
	limit := 0.0
	for _, t := range []*track.Track{p.before, p.after} {
		if t != nil {
			limit = max(limit, mixed(t.Quality), 2*t.Noise)
		}
	}
	steps := int(math.Ceil(reach * k.before.Rate))
	offset, begun, ok := r3.Vec{}, false, true
	k.each(first, last, func(b, a float64) bool {
		if !begun {
			offset, begun = r3.Sub(sample(p.after, a), sample(p.before, b)), true
		}
		at := r3.Sub(sample(p.after, a), offset)
		ok = false
		for s := -steps; s <= steps && !ok; s++ {
			ok = r3.Norm(r3.Sub(at, sample(p.before, b+float64(s)))) <= limit
		}
		return ok
	})
	return ok && begun
}
