package timing

import (
	"cmp"
	"math"
	"slices"

	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/track"
)

// The limits of changes that come together.
var (
	beatGap = kit.Limit{Name: "beat_gap", Value: 0.25, Unit: "s",
		Doc:    "a longer pause parts two beats",
		Source: "the shortest hold"}
	apart = kit.Limit{Name: "apart", Value: 0.15, Unit: "frames",
		Doc:    "two changes are together when they miss each other by so much less than the window",
		Source: "common practice, no source"}
	fewGroups = kit.Limit{Name: "few_groups", Value: 3, Unit: "count",
		Doc:    "fewer groups that move make no crowd",
		Source: "common practice, no source"}
	wholeBeat = kit.Limit{Name: "whole_beat", Value: 4, Unit: "count",
		Doc:    "a beat of at most so many groups is together when all of them are",
		Source: "common practice, no source"}
)

// freeBeats are the beats of the figure without the strokes of pinned limbs,
// which would join them: a leg gives way to every shift of the hips.
func freeBeats(fig *motion.Figure) []motion.FigureBeat {
	gap := beatGap.Frames(fig.Study().Rate)
	var out []motion.FigureBeat
	for _, b := range fig.Beats() {
		if !slices.ContainsFunc(b.Strokes, func(k motion.GroupStroke) bool { return kit.Pinned(fig, k.Group, k.Stroke.First, k.Stroke.Last) }) {
			out = append(out, b)
			continue
		}
		n := len(out)
		for _, k := range b.Strokes {
			if kit.Pinned(fig, k.Group, k.Stroke.First, k.Stroke.Last) {
				continue
			}
			if last := len(out) - 1; last >= n && k.Stroke.First-out[last].Last < gap {
				out[last].Last = max(out[last].Last, k.Stroke.Last)
				out[last].Strokes = append(out[last].Strokes, k)
				continue
			}
			out = append(out, motion.FigureBeat{First: k.Stroke.First, Last: k.Stroke.Last, Strokes: []motion.GroupStroke{k}})
		}
	}
	return out
}

// change is one event of a group that moves in a beat.
type change struct {
	group *motion.Group
	track *track.Track
	frame int
	time  float64 // in frames, between whole ones
}

// cluster is a set of groups that change within the window of one frame.
type cluster struct {
	frame   int
	kind    track.EventKind
	changes []change
	moving  int // groups that move in the beat
}

// crowd says how many groups of a beat make a cluster, and how close in time.
type crowd struct {
	share  float64 // of the moving groups
	groups int     // fewest among many
	window float64 // frames either way
}

// tightest returns the largest cluster of a beat that is large enough.
func tightest(c *kit.Context, fig *motion.Figure, b *motion.FigureBeat, l crowd) (cluster, bool) {
	groups := b.Groups()
	n := len(groups)
	if n < int(fewGroups.Value) {
		return cluster{}, false
	}
	events, tracks := make([][]track.Event, n), make([]*track.Track, n)
	for i, g := range groups {
		events[i], tracks[i] = g.EventsIn(b.First, b.Last)
	}
	var best cluster
	for kind := track.Start; kind <= track.Turn; kind++ {
		var all []change
		counts := make([]int, n)
		for i, g := range groups {
			for _, e := range events[i] {
				if e.Kind == kind && !cutByClip(tracks[i], e) {
					all = append(all, change{g, tracks[i], e.Frame, tracks[i].EventTime(e)})
					counts[i]++
				}
			}
		}
		k := densest(all, l.window)
		window := 2*math.Floor(l.window+kit.Rounding.Value) + 1
		if len(k.changes) > len(best.changes) && !byChance(counts, len(k.changes), window, float64(b.Last-b.First+1)) {
			k.kind, k.moving = kind, n
			best = k
		}
	}
	k := len(best.changes)
	enough := k >= l.groups && float64(k) >= l.share*float64(n) || (n <= int(wholeBeat.Value) && k == n)
	if !enough || kit.NearContact(c, fig, best.frame) {
		return cluster{}, false
	}
	return best, true
}

// cutByClip reports whether an event is the first or last change of a clip on twos
// or threes, whose first and last frames repeat: what moves through the beginning
// or end of the clip starts or stops nowhere.
func cutByClip(t *track.Track, e track.Event) bool {
	if t.Stepping() < 2 {
		return false
	}
	w := t.StepFrames(t.Stepping())
	return e.Kind == track.Start && e.Frame <= w || e.Kind == track.Stop && e.Frame >= t.Len()-1-w
}

// densest returns the changes of the most groups within the window, in frames
// either way, of one time.
func densest(all []change, window float64) cluster {
	slices.SortStableFunc(all, func(a, b change) int { return cmp.Compare(a.time, b.time) })
	width := 2*window - apart.Value
	var best cluster
	for i, m := range all {
		k := cluster{frame: m.frame}
		for _, o := range all[i:] {
			if o.time-m.time > width {
				break
			}
			if !slices.ContainsFunc(k.changes, func(x change) bool { return x.group == o.group }) {
				k.changes = append(k.changes, o)
			}
		}
		if len(k.changes) > len(best.changes) {
			k.frame = k.changes[len(k.changes)/2].frame
			best = k
		}
	}
	return best
}
