package diagnostics

import (
	"fmt"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
)

const (
	// habit is how many notes of one check on one figure are a habit of the
	// clip rather than so many faults.
	habit = 6
	// habitPlaces bounds the related places of a summary.
	habitPlaces = 20
)

// summarise makes one note of a habit: the heaviest of the notes of one check
// on one figure speaks for all, with their number and places. Hints stay as
// they are, since each carries its own fix, and so do notes on the file.
func summarise(study *motion.Study, notes []note.Note) []note.Note {
	type key struct {
		check  string
		figure *motion.Figure
	}
	groups := map[key][]int{}
	for i, n := range notes {
		if n.PartID == scene.NoPart || n.Severity >= note.Hint || !n.HasFrames() {
			continue
		}
		if fig := study.FigureOf(n.PartID); fig != nil {
			k := key{n.Check, fig}
			groups[k] = append(groups[k], i)
		}
	}
	gone := make([]bool, len(notes))
	for _, list := range groups {
		if len(list) <= habit {
			continue
		}
		top := list[0]
		for _, i := range list {
			if notes[i].Weight > notes[top].Weight {
				top = i
			}
		}
		n := notes[top]
		n.Message = fmt.Sprintf("%s (and %d more like it)", n.Message, len(list)-1)
		n.Measures = append(n.Measures[:len(n.Measures):len(n.Measures)], note.Measure{Name: "like-it", Value: float64(len(list)), Unit: "count"})
		for _, i := range list {
			if i == top {
				continue
			}
			gone[i] = true
			if len(n.Related) < habitPlaces {
				o := notes[i]
				n.Related = append(n.Related[:len(n.Related):len(n.Related)], note.Related{Span: o.Span, Part: o.Part, First: o.First, Last: o.Last, Message: "again here"})
			}
		}
		notes[top] = n
	}
	kept := notes[:0]
	for i, n := range notes {
		if !gone[i] {
			kept = append(kept, n)
		}
	}
	return kept
}
