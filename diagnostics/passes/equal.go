package passes

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion/solve"
	"curvelint/diagnostics/motion/track"
)

// The differences of place that nobody sees, in the units of the qualities: 0.1 %
// of figure size, 0.2 degrees, 0.5 % of a range. What exporters round and what is
// lost between the frames of a lower rate stays below. Measured on the demo in all
// formats and on captured motion thinned to a fifth of its frames.
func unseen(q track.Quality) float64 {
	switch q {
	case track.Rotation:
		return 0.2
	case track.Value:
		return 0.005
	}
	return 0.001
}

// equal reports whether both tracks of a pair run alike, within what nobody sees,
// between two times. Where they begin does not count. Rates may differ: the frames
// of the lower one are compared.
func (p *trackPair) equal(k *clock, first, last float64) bool {
	if p.turned || last < first {
		return false
	}
	limit := p.tolerance()
	offset, begun := r3.Vec{}, false
	same := true
	k.each(first, last, func(b, a float64) bool {
		d := r3.Sub(sample(p.after, a), sample(p.before, b))
		if !begun {
			offset, begun = d, true
		}
		same = r3.Norm(r3.Sub(d, offset)) <= limit
		return same
	})
	return begun && (same || p.motion == Turn && p.turnsAlike(k, first, last, limit))
}

// turnsAlike reports whether a part's orientations, seen from those at the first
// time, agree within a limit in degrees. The path of a rotation is a sum of steps,
// and coarser steps lead elsewhere though every pose is the same.
func (p *trackPair) turnsAlike(k *clock, first, last, limit float64) bool {
	var fromBefore, fromAfter solve.Affine
	begun, same := false, true
	k.each(first, last, func(b, a float64) bool {
		x := k.before.LocalAt(p.partBefore, k.before.First+b)
		y := k.after.LocalAt(p.part, k.after.First+a)
		if !begun {
			begun, fromBefore, fromAfter = true, x.Inverse(), y.Inverse()
		}
		x, y = fromBefore.Mul(&x), fromAfter.Mul(&y)
		same = x.AngleTo(&y) <= limit
		return same
	})
	return begun && same
}

// tolerance is how far apart the places of a pair may be and count as equal.
func (p *trackPair) tolerance() float64 {
	limit := 0.0
	for _, t := range []*track.Track{p.before, p.after} {
		if t != nil {
			limit = max(limit, unseen(t.Quality), 2*t.Noise)
		}
	}
	return limit
}

// each calls do with the frame indices of both passes at each frame of the lower
// rate between two times, until it returns false.
func (k *clock) each(first, last float64, do func(before, after float64) bool) {
	if k.before.Rate <= k.after.Rate {
		for i := math.Ceil(k.indexBefore(first) - 1e-6); i <= k.indexBefore(last)+1e-6; i++ {
			if !do(i, k.indexAfter(k.timeBefore(i))) {
				return
			}
		}
		return
	}
	for i := math.Ceil(k.indexAfter(first) - 1e-6); i <= k.indexAfter(last)+1e-6; i++ {
		if !do(k.indexBefore(k.timeAfter(i)), i) {
			return
		}
	}
}
