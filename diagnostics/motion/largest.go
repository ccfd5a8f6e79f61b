package motion

import (
	"cmp"
	"math/bits"
	"slices"

	"curvelint/diagnostics/motion/track"
)

// largest keeps of strokes that overlap for more than half of the shorter one
// the most prominent. It takes the time of sorting them.
type largest struct {
	frames int // of the study
	tracks []*track.Track
	order  []ranked

	// Kept strokes overlap little, so that no two begin at one frame: begins
	// has a bit for each frame at which one begins, and at says which.
	begins []uint64
	at     []groupPick
}

// groupPick is a stroke of one of a group's tracks, by index.
type groupPick struct{ track, stroke int32 }

// groupPicks are the strokes of a group and the tracks they belong to.
type groupPicks struct {
	tracks []*track.Track
	picks  []groupPick
}

// groupKey names a group in the studies of a scene before and after an edit.
type groupKey struct {
	figure int
	name   string
}

// pick chooses the strokes of a group, or takes over the choice of an earlier
// study when none of its tracks has changed.
func (g *Group) pick() *groupPicks {
	tracks := g.ownTracks()
	if m := g.Figure.study.earlier; m != nil {
		if old := m.groups[groupKey{g.Figure.Index, g.Name}]; old != nil && slices.Equal(old.tracks, tracks) {
			return old
		}
	}
	l := largest{frames: g.Figure.study.N, tracks: tracks}
	for i, t := range tracks {
		for j, k := range t.Strokes() {
			if p := t.Prominence(k); p >= minProminence {
				l.order = append(l.order, ranked{p, int32(k.First), groupPick{int32(i), int32(j)}})
			}
		}
	}
	return &groupPicks{tracks, l.kept()}
}

// pickedGroups returns what the groups of a study have chosen so far.
func (s *Study) pickedGroups() map[groupKey]*groupPicks {
	all := map[groupKey]*groupPicks{}
	for _, fig := range s.Figures() {
		for _, g := range fig.Groups {
			if p := g.picked.Load(); p != nil {
				all[groupKey{fig.Index, g.Name}] = p
			}
		}
	}
	return all
}

// ranked is a stroke with what decides about it.
type ranked struct {
	prominence float64
	first      int32
	pick       groupPick
}

// kept returns the kept strokes by first frame. Of equally prominent ones the
// earlier goes first, then that of the earlier track.
func (l *largest) kept() []groupPick {
	slices.SortFunc(l.order, func(a, b ranked) int {
		if c := cmp.Compare(b.prominence, a.prominence); c != 0 {
			return c
		}
		return cmp.Or(cmp.Compare(a.first, b.first), cmp.Compare(a.pick.track, b.pick.track), cmp.Compare(a.pick.stroke, b.pick.stroke))
	})
	l.begins, l.at = make([]uint64, l.frames/64+1), make([]groupPick, l.frames)
	n := 0
	for _, r := range l.order {
		if !l.clashes(int(r.first), l.stroke(r.pick)) {
			l.begins[r.first/64] |= 1 << (r.first % 64)
			l.at[r.first] = r.pick
			n++
		}
	}
	out := make([]groupPick, 0, n)
	for f := l.next(0); f >= 0; f = l.next(f + 1) {
		out = append(out, l.at[f])
	}
	return out
}

func (l *largest) stroke(p groupPick) *track.Stroke { return &l.tracks[p.track].Strokes()[p.stroke] }

// clashes reports whether the stroke that begins at frame f overlaps a kept one
// for more than half of the shorter: only the two before it and the two behind
// come into question.
func (l *largest) clashes(f int, k *track.Stroke) bool {
	before, behind := f-1, f
	for range 2 {
		if before = l.last(before); before >= 0 {
			if l.overlaps(before, k) {
				return true
			}
			before--
		}
		if behind = l.next(behind); behind >= 0 {
			if l.overlaps(behind, k) {
				return true
			}
			behind++
		} else {
			behind = l.frames
		}
	}
	return false
}

func (l *largest) overlaps(f int, k *track.Stroke) bool {
	o := l.stroke(l.at[f])
	both := min(o.Last, k.Last) - max(o.First, k.First)
	short := min(o.Last-o.First, k.Last-k.First)
	return both > 0 && 2*both > short
}

// next returns the first frame from f on at which a kept stroke begins, or -1.
func (l *largest) next(f int) int {
	w := f / 64
	if f < 0 || w >= len(l.begins) {
		return -1
	}
	b := l.begins[w] >> (f % 64) << (f % 64)
	for b == 0 {
		if w++; w == len(l.begins) {
			return -1
		}
		b = l.begins[w]
	}
	return 64*w + bits.TrailingZeros64(b)
}

// last returns the last frame up to f at which a kept stroke begins, or -1.
func (l *largest) last(f int) int {
	if f < 0 {
		return -1
	}
	w, shift := f/64, 63-f%64
	b := l.begins[w] << shift >> shift
	for b == 0 {
		if w--; w < 0 {
			return -1
		}
		b = l.begins[w]
	}
	return 64*w + 63 - bits.LeadingZeros64(b)
}
