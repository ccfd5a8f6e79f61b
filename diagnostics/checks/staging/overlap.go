package staging

import (
	"curvelint/diagnostics/note"
)

// firstOfOverlapping keeps one note of those on the same part at the same time.
func firstOfOverlapping(notes []note.Note) []note.Note {
	var kept []note.Note
	for _, n := range notes {
		clash := false
		for _, k := range kept {
			clash = clash || (k.PartID == n.PartID && min(k.Last, n.Last) >= max(k.First, n.First))
		}
		if !clash {
			kept = append(kept, n)
		}
	}
	return kept
}
