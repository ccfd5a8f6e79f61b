package diagnostics

import (
	"cmp"
	"slices"
	"strings"

	"curvelint/diagnostics/note"
)

// sortNotes puts notes into their order: those about no frames first, then by
// first frame, place, check and part.
func sortNotes(notes []note.Note) { slices.SortStableFunc(notes, compare) }

func compare(a, b note.Note) int {
	if x, y := a.HasFrames(), b.HasFrames(); x != y {
		if y {
			return -1
		}
		return 1
	}
	return cmp.Or(
		cmp.Compare(a.First, b.First),
		cmp.Compare(a.Span.File, b.Span.File),
		cmp.Compare(a.Span.Start, b.Span.Start),
		strings.Compare(a.Check, b.Check),
		strings.Compare(a.Part, b.Part),
		cmp.Compare(a.Last, b.Last),
		strings.Compare(a.Message, b.Message),
	)
}

// Worst returns the n heaviest notes, in the order they have; all of them when
// n is 0. Errors are heavier than anything else.
func Worst(notes []note.Note, n int) []note.Note {
	if n <= 0 || n >= len(notes) {
		return notes
	}
	ranked := make([]int, len(notes))
	for i := range ranked {
		ranked[i] = i
	}
	slices.SortStableFunc(ranked, func(i, j int) int { return heavier(&notes[i], &notes[j]) })
	ranked = ranked[:n]
	slices.Sort(ranked)
	worst := make([]note.Note, n)
	for k, i := range ranked {
		worst[k] = notes[i]
	}
	return worst
}

// heavier orders by severity where that is an error, then by weight, then by
// severity.
func heavier(a, b *note.Note) int {
	if x, y := a.Severity == note.Error, b.Severity == note.Error; x != y {
		if x {
			return -1
		}
		return 1
	}
	return cmp.Or(cmp.Compare(b.Weight, a.Weight), cmp.Compare(a.Severity, b.Severity))
}
