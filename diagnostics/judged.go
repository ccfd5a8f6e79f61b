package diagnostics

import (
	"fmt"
	"math"
	"slices"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
)

// clearOfHandles removes the notes that lie mostly in the handles, which are
// studied but never judged.
func clearOfHandles(study *motion.Study, notes []note.Note) []note.Note {
	handles := float64(study.Options.Handles)
	if handles == 0 {
		return notes
	}
	first, last := study.Frame(0)+handles, study.Frame(study.N-1)-handles
	return slices.DeleteFunc(notes, func(n note.Note) bool {
		inside := common(n.First, n.Last, first, last)
		mostly := 2*inside >= count(n.First, n.Last) || 2*inside >= count(first, last)
		return n.HasFrames() && (inside == 0 || !mostly)
	})
}

// inRange removes the notes that share no frame with the configured range.
func inRange(study *motion.Study, notes []note.Note) []note.Note {
	o := &study.Options
	if !o.HasRange {
		return notes
	}
	return slices.DeleteFunc(notes, func(n note.Note) bool {
		return n.HasFrames() && common(n.First, n.Last, o.First, o.Last) == 0
	})
}

// count returns the number of frames from a to b, both included.
func count(a, b float64) float64 { return math.Max(0, b-a+1) }

// common returns the number of frames that two ranges share.
func common(a, b, c, d float64) float64 {
	low, high := math.Max(a, c), math.Min(b, d)
	if high < low {
		return 0
	}
	return count(low, high)
}

// enormous is a value whose products are no longer numbers. No scene is so large.
const enormous = 1e75

// beyondMeasure reports whether a note measures what is no number because the scene
// has values whose products are none: then there is nothing to say.
func beyondMeasure(sc *scene.Scene, n *note.Note) bool {
	sound := finite(n.Weight)
	for i := range n.Measures {
		sound = sound && finite(n.Measures[i].Value)
	}
	return !sound && slices.ContainsFunc(sc.Channels, func(c scene.Channel) bool {
		return slices.ContainsFunc(c.Curve.Values, func(v float64) bool { return math.Abs(v) > enormous })
	})
}

// mustBeSound panics when a check made a note that cannot be shown.
func mustBeSound(sc *scene.Scene, n *note.Note) {
	switch {
	case n.Message == "":
		panic(n.Check + " gave a note without a message")
	case n.PartID != scene.NoPart && (n.PartID < 0 || int(n.PartID) >= len(sc.Parts)):
		panic(fmt.Sprintf("%s gave a note on part %d of %d", n.Check, n.PartID, len(sc.Parts)))
	case !finite(n.First) || !finite(n.Last) || !finite(n.Weight) || n.Weight < 0:
		panic(fmt.Sprintf("%s gave a note with frames %g-%g and weight %g", n.Check, n.First, n.Last, n.Weight))
	case !inFiles(sc, n.Span):
		panic(fmt.Sprintf("%s gave a note at %+v, outside the files", n.Check, n.Span))
	}
	for i := range n.Measures {
		if m := &n.Measures[i]; !finite(m.Value) {
			panic(fmt.Sprintf("%s measured a %s of %g", n.Check, m.Name, m.Value))
		}
	}
	for i := range n.Related {
		if r := &n.Related[i]; !inFiles(sc, r.Span) || !finite(r.First) || !finite(r.Last) {
			panic(fmt.Sprintf("%s gave a related place at %+v, frames %g-%g", n.Check, r.Span, r.First, r.Last))
		}
	}
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

func inFiles(sc *scene.Scene, s scene.Span) bool {
	if s.File < 0 || int(s.File) >= len(sc.Files) {
		return false
	}
	if f := sc.Files[s.File]; f.Away > 0 { // spans may be open
		return int(max(s.Start, s.End)) <= f.Away
	}
	return s.Start <= s.End && int(s.End) <= len(sc.Files[s.File].Text)
}

// CloseSpans gives the places of notes their ends, which they lack when they
// were made while the text of the file was put away. It is there again in files.
func CloseSpans(files []*scene.File, notes []note.Note) {
	sc := &scene.Scene{Files: files}
	for i := range notes {
		n := &notes[i]
		n.Span = sc.Closed(n.Span)
		for j := range n.Related {
			n.Related[j].Span = sc.Closed(n.Related[j].Span)
		}
	}
}
