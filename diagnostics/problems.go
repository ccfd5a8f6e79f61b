package diagnostics

import (
	"curvelint/diagnostics/config"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
)

// ProblemNotes returns the notes on what is wrong with a scene's files, which
// need no study: they are among those that Judge gives.
func ProblemNotes(sc *scene.Scene, cfg *config.Config) []note.Note {
	notes := problemNotes(sc)
	setSeverities(cfg, notes)
	kept := notes[:0]
	for _, n := range notes {
		if n.Severity != note.Off {
			kept = append(kept, n)
		}
	}
	sortNotes(kept)
	return kept
}
