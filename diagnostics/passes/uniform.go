package passes

import (
	"cmp"
	"context"
	"math"
	"slices"
)

// uniformShare is the share of all strokes, by how far they go, that must be
// shifted alike for the whole shot to be.
const uniformShare = 0.8

// weighted is a shift in seconds with the weight of what is shifted.
type weighted struct{ shift, weight float64 }

// uniformShift returns by how many seconds everything comes later, 0 when not
// everything does, or by less than a frame. Two passes of one rate are a whole
// number of frames apart.
func uniformShift(list []*matchedTrack, k *clock) float64 {
	var shifts []weighted
	for _, p := range list {
		for i := range p.strokes {
			s := &p.strokes[i]
			if len(s.before) != 1 || len(s.after) != 1 {
				continue
			}
			a, ok := measure(p.before, s.before, 0, k.before.N-1, k.timeBefore)
			b, also := measure(p.after, s.after, 0, k.after.N-1, k.timeAfter)
			if !ok || !also || s.before[0].First == 0 || s.after[0].First == 0 || s.before[0].Last == k.before.N-1 || s.after[0].Last == k.after.N-1 {
				continue // cut by the clip's end
			}
			shifts = append(shifts, weighted{compareTiming(&a, &b, k.near()).shift(), p.before.Prominence(s.before[0])})
		}
	}
	shift, share := agreement(shifts, 0.5/k.after.Rate)
	if share < uniformShare || math.Abs(k.frames(shift)) < leastFrames {
		return 0
	}
	if math.Abs(k.before.Rate-k.after.Rate) <= sameRate {
		shift = math.Round(k.frames(shift)) / k.after.Rate
	}
	return shift
}

// farthestShift is how far in seconds a copy of the whole motion is looked for.
const farthestShift = 5.0

// copied returns the shift in seconds after which most motions are as they were, 0
// when there is none. Motion that repeats itself hides a shift from its strokes,
// but not from the whole.
func copied(ctx context.Context, pairs []*trackPair, k *clock) float64 {
	rate := min(k.before.Rate, k.after.Rate)
	frames := min(int(farthestShift*rate), max(k.before.N, k.after.N))
	for n := 0; n <= frames && ctx.Err() == nil; n++ {
		for _, s := range []float64{float64(n) / rate, -float64(n) / rate} {
			if k.copiedBy(pairs, s) {
				return s
			}
		}
	}
	return 0
}

// copiedBy reports whether most motions, by their number, are equal after a shift,
// over at least half of the shorter pass.
func (k *clock) copiedBy(pairs []*trackPair, shift float64) bool {
	moved := *k
	moved.shift += shift
	first, last := moved.common()
	if last-first < 0.5*min(float64(k.before.N)/k.before.Rate, float64(k.after.N)/k.after.Rate) {
		return false
	}
	left := int((1 - uniformShare) * float64(len(pairs)))
	for _, p := range pairs {
		if !p.equal(&moved, first, last) {
			if left--; left < 0 {
				return false
			}
		}
	}
	return len(pairs) > 0
}

// agreement returns the weighted median of shifts and the share of the weight that
// lies within a margin of it.
func agreement(list []weighted, margin float64) (median, share float64) {
	sorted := slices.Clone(list)
	slices.SortStableFunc(sorted, func(a, b weighted) int {
		return cmp.Compare(a.shift, b.shift)
	})
	total := 0.0
	for _, w := range sorted {
		total += w.weight
	}
	if total == 0 {
		return 0, 0
	}
	sum := 0.0
	for _, w := range sorted {
		if sum += w.weight; 2*sum >= total {
			median = w.shift
			break
		}
	}
	near := 0.0
	for _, w := range sorted {
		if math.Abs(w.shift-median) <= margin+1e-9 {
			near += w.weight
		}
	}
	return median, near / total
}
