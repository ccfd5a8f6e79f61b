package diagnostics

import (
	"fmt"

	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
)

// gatherShared makes one note of those of one check on the same keys at the same
// frames: parts that use one animation many times have one flaw in one place. The
// heaviest speaks for all, with their number.
func gatherShared(notes []note.Note) []note.Note {
	type key struct {
		check       string
		span        scene.Span
		first, last float64
	}
	top, count := map[key]int{}, map[key]int{}
	keyOf := func(n *note.Note) (key, bool) {
		return key{n.Check, n.Span, n.First, n.Last}, n.PartID != scene.NoPart && n.HasFrames() && n.Span.Start < n.Span.End
	}
	for i := range notes {
		if k, ok := keyOf(&notes[i]); ok {
			if count[k]++; count[k] == 1 || notes[i].Weight > notes[top[k]].Weight {
				top[k] = i
			}
		}
	}
	kept := notes[:0]
	for i, n := range notes {
		k, ok := keyOf(&n)
		if ok && top[k] != i {
			continue
		}
		if others := count[k] - 1; ok && others > 0 {
			n.Message = fmt.Sprintf("%s (and %d more with these keys)", n.Message, others)
			n.Measures = append(n.Measures[:len(n.Measures):len(n.Measures)], note.Measure{Name: "with-these-keys", Value: float64(count[k]), Unit: "count"})
		}
		kept = append(kept, n)
	}
	return kept
}
