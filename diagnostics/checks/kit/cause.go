package kit

import (
	"slices"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/track"
	"curvelint/parse/scene"
)

// Candidate is something seen on a track before its cause is known; the checks make
// notes of those that are left when each cause speaks once.
type Candidate struct {
	Track       *track.Track
	First, Last int // frame indices
	// Size ranks candidates with one cause: the one an audience sees most speaks
	// for all (figure sizes or their like).
	Size    float64
	Drivers []motion.Share
}

// Driver is the channel that causes the candidate.
func (f *Candidate) Driver() scene.ChannelID { return f.Drivers[0].Channel }

// OneCause keeps of the candidates that overlap in time and have one driver, or
// drivers on one part or in one group (the fingers of a hand), the largest:
// fifty descendants moved by the hips are one candidate at the hips. Those
// without a driver are dropped.
func OneCause[F any](fig *motion.Figure, all []F, get func(*F) *Candidate) []F {
	s := fig.Study()
	slices.SortStableFunc(all, func(a, b F) int {
		fa, fb := get(&a), get(&b)
		switch {
		case fa.Size > fb.Size:
			return -1
		case fa.Size < fb.Size:
			return 1
		}
		return fa.First - fb.First
	})
	var kept []F
	taken := map[causeKey]stretches{}
	for i := range all {
		f := get(&all[i])
		if len(f.Drivers) == 0 {
			continue
		}
		key := causeKey{part: s.Scene.Channels[f.Driver()].Part}
		if g := fig.GroupOf(key.part); g != nil {
			key = causeKey{group: g}
		}
		if now, free := taken[key].With(f.First, f.Last); free {
			taken[key] = now
			kept = append(kept, all[i])
		}
	}
	return kept
}

// causeKey is what candidates with one cause have in common: the group of the
// driver's part, or the part where it is in none.
type causeKey struct {
	group *motion.Group
	part  scene.PartID
}

// stretches are ranges of frames that do not overlap, in order.
type stretches [][2]int

// With returns the stretches with another one, false when that overlaps one.
func (s stretches) With(first, last int) (stretches, bool) {
	at, _ := slices.BinarySearchFunc(s, first, func(x [2]int, first int) int { return x[0] - first })
	if at > 0 && s[at-1][1] >= first || at < len(s) && s[at][0] <= last {
		return s, false
	}
	return slices.Insert(s, at, [2]int{first, last}), true
}
