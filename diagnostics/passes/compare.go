package passes

import (
	"context"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
)

// Options limit a comparison. The zero value compares everything.
type Options struct {
	// Reference compares the timing of beats alone: one side is captured
	// motion, or points tracked in a picture, rather than a pass of the shot.
	// It is set by itself when one side is tracked in the picture, and when the
	// two share less than a third of their moving parts.
	Reference bool
	// Match chooses parts by path, in either pass; nil means all.
	Match func(path string) bool
	// First and Last limit what is compared to frames of the later pass, when
	// HasRange.
	First, Last float64
	HasRange    bool
}

// Comparison is what became of a pass. Everything in it is ordered by what an
// audience sees most, or by frames where that is said.
type Comparison struct {
	Before, After *motion.Study
	// Reference is true when only the timing of beats was compared.
	Reference bool
	// Unrelated says why the two do not belong together, as what was expected,
	// found, and to do; "" when they do. Then nothing else was compared.
	Unrelated string
	// HasPicture is true when sizes are shares of the picture's height, through
	// the camera of the later pass; else they are shares of figure size.
	HasPicture bool
	// Renumbered is by how much the frame numbers of the later pass are higher
	// where its whole range was numbered anew; 0 as a rule.
	Renumbered float64
	// Shift is by how many frames everything comes later in the later pass,
	// negative for sooner; 0 as a rule. All else is compared with the shift
	// taken off.
	Shift float64
	// Beats are the beats whose timing changed, by frames.
	Beats []Beat
	// Orders are the beats in which parts follow each other differently, by
	// frames.
	Orders []Order
	// Holds are holds of whole figures that changed, by frames.
	Holds []Hold
	// Parts are the parts that changed.
	Parts []Part
	// Gone and New are the paths of moving parts that only the earlier or only
	// the later pass has, in the order of the files. Empty with Reference.
	Gone, New []string
	// Compared is the number of strokes that were held against each other.
	Compared int
	// ComparedBeats is the number of beats held against the reference.
	ComparedBeats int
	Notes         Notes

	byPath map[string]int // of both passes: index into Parts
}

// SameTiming reports whether the timing of the shot is unchanged: no beat comes
// sooner or later. Single parts may; see Parts.
func (c *Comparison) SameTiming() bool {
	return c.Unrelated == "" && c.Shift == 0 && len(c.Beats) == 0
}

// Empty reports whether nothing changed beyond noise, notes included.
func (c *Comparison) Empty() bool {
	return c.SameTiming() && c.Renumbered == 0 && len(c.Orders)+len(c.Holds)+len(c.Parts)+len(c.Gone)+len(c.New) == 0 &&
		len(c.Notes.Fixed)+len(c.Notes.New) == 0
}

// Compare holds a pass against an earlier one. The notes are those that were
// given on each; they may be nil. The error is that of the context, when it ends
// first.
func Compare(ctx context.Context, before, after *motion.Study, notesBefore, notesAfter []note.Note, o Options) (*Comparison, error) {
	c := &Comparison{Before: before, After: after, byPath: map[string]int{}}
	m := matchParts(before, after)
	k := newClock(before, after)
	c.Renumbered = k.renumbered
	c.HasPicture = after.View() != nil
	var err error
	if o.Reference || isPicture(before) || isPicture(after) || m.shared() < leastShared {
		c.Reference = true
		err = c.compareReference(ctx, m, k, o)
	} else {
		err = c.comparePasses(ctx, m, k, o, notesBefore, notesAfter)
	}
	if err != nil {
		return nil, err
	}
	return c, nil
}

// comparePasses compares everything about two passes, unless they are none.
func (c *Comparison) comparePasses(ctx context.Context, m *partMatch, k *clock, o Options, notesBefore, notesAfter []note.Note) error {
	pairs := pairTracks(k.before, k.after, m)
	k.shift = copied(ctx, pairs, k)
	if c.Unrelated = unlikePasses(ctx, pairs, k); c.Unrelated != "" {
		c.Renumbered = 0
		return ctx.Err()
	}
	matched := matchAll(ctx, pairs, k)
	if s := uniformShift(matched, k); s != 0 {
		k.shift += s
		matched = matchAll(ctx, pairs, k)
	}
	c.Shift = k.frames(k.shift)
	seen := newSight(k.before, k.after)
	moves := c.measureAll(ctx, matched, k, seen, o)
	c.Beats = beatsMoved(moves, k)
	explain(c.Beats, moves, k)
	c.Orders = ordersChanged(moves, k)
	c.Holds = figureHolds(m, k, o)
	c.Parts = changedParts(ctx, moves, matched, c.Holds, k, seen, o)
	c.Gone, c.New = m.unmatched(o)
	for i := range c.Parts {
		c.byPath[c.Parts[i].Before] = i
	}
	for i := range c.Parts {
		c.byPath[c.Parts[i].Path] = i
	}
	c.Notes = matchNotes(notesBefore, notesAfter, m, matched, k, o)
	return ctx.Err()
}

// leastShared is the share of the moving parts of the smaller scene that must
// have a counterpart for two files to be passes of one shot. Common practice, no
// source.
const leastShared = 1.0 / 3
