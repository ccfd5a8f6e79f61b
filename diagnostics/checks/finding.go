package checks

import (
	"slices"

	"curvelint/diagnostics/motion"
	"curvelint/parse/scene"
)

// finding is something seen on a track before its cause is known.
type finding struct {
	track       *motion.Track
	first, last int // frame indices
	// size ranks findings with one cause: the one an audience sees most speaks
	// for all (figure sizes or their like).
	size    float64
	drivers []motion.Share
}

// driver is the channel that causes the finding.
func (f *finding) driver() scene.ChannelID { return f.drivers[0].Channel }

// oneCause keeps of the findings that overlap in time and have one driver, or
// drivers on one part or in one group (the fingers of a hand), the largest:
// fifty descendants moved by the hips are one finding at the hips. Findings
// without a driver are dropped.
func oneCause[F any](fig *motion.Figure, all []F, get func(*F) *finding) []F {
	s := fig.Study()
	slices.SortStableFunc(all, func(a, b F) int {
		fa, fb := get(&a), get(&b)
		switch {
		case fa.size > fb.size:
			return -1
		case fa.size < fb.size:
			return 1
		}
		return fa.first - fb.first
	})
	var kept []F
	taken := map[causeKey]stretches{}
	for i := range all {
		f := get(&all[i])
		if len(f.drivers) == 0 {
			continue
		}
		key := causeKey{part: s.Scene.Channels[f.driver()].Part}
		if g := fig.GroupOf(key.part); g != nil {
			key = causeKey{group: g}
		}
		if now, free := taken[key].with(f.first, f.last); free {
			taken[key] = now
			kept = append(kept, all[i])
		}
	}
	return kept
}

// causeKey is what findings with one cause have in common: the group of the
// driver's part, or the part where it is in none.
type causeKey struct {
	group *motion.Group
	part  scene.PartID
}

// stretches are ranges of frames that do not overlap, in order.
type stretches [][2]int

// with returns the stretches with another one, false when that overlaps one.
func (s stretches) with(first, last int) (stretches, bool) {
	at, _ := slices.BinarySearchFunc(s, first, func(x [2]int, first int) int { return x[0] - first })
	if at > 0 && s[at-1][1] >= first || at < len(s) && s[at][0] <= last {
		return s, false
	}
	return slices.Insert(s, at, [2]int{first, last}), true
}

// seenTracks are the tracks whose spacing an audience sees: the world paths of
// tracked points, every part's own turning and every weight. A part's own
// shifting shows in the path of a point, but for the face, which has none.
func seenTracks(fig *motion.Figure) []*motion.Track {
	s := fig.Study()
	var out []*motion.Track
	if vehicle(fig) {
		return nil
	}
	if !fig.Locomotion() {
		// In a walk the paths of all points are mostly the walk; what the parts
		// add to it shows in their own turning.
		for i, t := range pointTracks(fig) {
			// The face rides on the head, whose point stands for it.
			if p := fig.Points[i]; p.Role != motion.TipPoint || !fig.LabelOf(p.Part).Body.Face() {
				out = append(out, t)
			}
		}
	}
	for _, p := range fig.Parts {
		if s.NatureOf(p) != motion.Living {
			continue
		}
		for _, t := range s.LocalTracks(p) {
			if t.Quality == motion.Position && !fig.LabelOf(p).Body.Face() {
				continue
			}
			out = append(out, t)
		}
	}
	return out
}

// vehicle reports whether the figure carries another and is no body itself: a
// deck, a cart. It moves as the sea or its engine wants.
func vehicle(fig *motion.Figure) bool {
	return !acts(fig) && slices.ContainsFunc(fig.Study().Figures(), func(o *motion.Figure) bool {
		return o != fig && o.Carrier != scene.NoPart && slices.Contains(fig.Parts, o.Carrier)
	})
}

// pointTracks are the paths of the figure's tracked points, relative to what
// carries the figure.
func pointTracks(fig *motion.Figure) []*motion.Track {
	out := make([]*motion.Track, len(fig.Points))
	for i := range fig.Points {
		out[i] = fig.CarriedTrack(i)
	}
	return out
}
