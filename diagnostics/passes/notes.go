package passes

import (
	"cmp"
	"context"
	"math"
	"slices"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
)

// Notes are what became of the notes on a pass.
type Notes struct {
	Fixed     []note.Note // of the earlier pass, gone in the later
	Remaining []note.Note // as given on the later pass
	New       []note.Note // of the later pass
}

// NewNotes returns what became of the notes alone, as Compare does. The error is that
// of the context, when it ends first.
func NewNotes(ctx context.Context, before, after *motion.Study, notesBefore, notesAfter []note.Note) (Notes, error) {
	m := matchParts(before, after)
	k := newClock(before, after)
	var matched []*matchedTrack
	if len(notesBefore) > 0 && len(notesAfter) > 0 {
		matched = matchAll(ctx, pairTracks(before, after, m), k)
		k.shift += uniformShift(matched, k)
	}
	if err := ctx.Err(); err != nil {
		return Notes{}, err
	}
	return matchNotes(notesBefore, notesAfter, m, matched, k, Options{}), nil
}

// noteMatcher matches notes of two passes.
type noteMatcher struct {
	parts *partMatch
	clock *clock
	warps map[scene.PartID]*warping // by part of before
}

// matchNotes finds which notes are the same: of one check, on one part, on frames
// that overlap once they are moved as the part's motion was; then of one check
// whose driver is another part of the same group, or above or below.
func matchNotes(before, after []note.Note, m *partMatch, tracks []*matchedTrack, k *clock, o Options) Notes {
	n := &noteMatcher{m, k, map[scene.PartID]*warping{}}
	for _, t := range tracks {
		if n.warps[t.partBefore] == nil && len(t.warp.to) > 2 {
			n.warps[t.partBefore] = t.warp
		}
	}
	was := make([]int, len(after)) // index of the note before, or -1
	for j := range was {
		was[j] = -1
	}
	used := make([]bool, len(before))
	for _, same := range []func(a, b *note.Note) float64{n.samePart, n.nearPart} {
		var found []noteCandidate
		for j := range after {
			for i := range before {
				if was[j] < 0 && !used[i] && before[i].Check == after[j].Check {
					if score := same(&before[i], &after[j]); score > 0 {
						found = append(found, noteCandidate{i, j, score})
					}
				}
			}
		}
		slices.SortStableFunc(found, func(a, b noteCandidate) int { return cmp.Compare(b.score, a.score) })
		for _, c := range found {
			if was[c.after] < 0 && !used[c.before] {
				was[c.after], used[c.before] = c.before, true
			}
		}
	}
	var out Notes
	for i := range before {
		if !used[i] && o.shows(&before[i], k.toAfter) {
			out.Fixed = append(out.Fixed, before[i])
		}
	}
	for j := range after {
		switch {
		case !o.shows(&after[j], func(f float64) float64 { return f }):
		case was[j] >= 0:
			out.Remaining = append(out.Remaining, after[j])
		default:
			out.New = append(out.New, after[j])
		}
	}
	return out
}

type noteCandidate struct {
	before, after int
	score         float64
}

// shows reports whether a note is of the parts and frames that are compared; frame
// turns its frames into those of the later pass.
func (o *Options) shows(n *note.Note, frame func(float64) float64) bool {
	if o.Match != nil && !o.Match(n.Part) {
		return false
	}
	return !o.HasRange || !n.HasFrames() || frame(n.Last) >= o.First && frame(n.First) <= o.Last
}

// toAfter turns a display frame of the earlier pass into one of the later.
func (k *clock) toAfter(frame float64) float64 {
	return k.frameAfter(k.timeBefore(frame - k.before.First))
}

// samePart scores two notes on one part, or on the files: 0 when they are not the
// same.
func (n *noteMatcher) samePart(a, b *note.Note) float64 {
	if !a.HasFrames() || !b.HasFrames() {
		if a.HasFrames() == b.HasFrames() && a.Message == b.Message && n.counterpart(a.PartID) == b.PartID {
			return 1
		}
		return 0
	}
	if n.counterpart(a.PartID) != b.PartID {
		return 0
	}
	return n.overlap(a, b, 0)
}

// nearPart scores two notes whose drivers are near each other.
func (n *noteMatcher) nearPart(a, b *note.Note) float64 {
	p := n.counterpart(a.PartID)
	if !a.HasFrames() || !b.HasFrames() || p == scene.NoPart || b.PartID == scene.NoPart {
		return 0
	}
	s := n.clock.after
	fig := s.FigureOf(p)
	near := s.IsAncestor(p, b.PartID) || s.IsAncestor(b.PartID, p)
	if fig != nil && fig == s.FigureOf(b.PartID) {
		g := fig.GroupOf(p)
		near = near || g != nil && g == fig.GroupOf(b.PartID)
	}
	if !near {
		return 0
	}
	return n.overlap(a, b, 0.5)
}

func (n *noteMatcher) counterpart(p scene.PartID) scene.PartID {
	if p == scene.NoPart || int(p) >= len(n.parts.toAfter) {
		return scene.NoPart
	}
	return n.parts.toAfter[p]
}

// overlap returns what two notes share of the shorter one's frames, as they are or
// as the part's motion was moved, whichever is more; 0 when it is not more than
// least. Frames count as a whole: notes on one frame overlap it.
func (n *noteMatcher) overlap(a, b *note.Note, least float64) float64 {
	k := n.clock
	half := 0.5 / k.after.Rate
	is := span{k.timeAfter(b.First-k.after.First) - half, k.timeAfter(b.Last-k.after.First) + half}
	was := span{k.timeBefore(a.First - k.before.First), k.timeBefore(a.Last - k.before.First)}
	share := 0.0
	moved := []span{was}
	if w := n.warps[a.PartID]; w != nil {
		moved = append(moved, span{w.after(was.first), w.after(was.last)})
	}
	for _, s := range moved {
		s = span{s.first - half, s.last + half}
		if short := min(s.length(), is.length()); short > 0 {
			share = max(share, s.common(is)/short)
		}
	}
	if share <= least || math.IsNaN(share) {
		return 0
	}
	return share
}
