package diagnostics

import (
	"fmt"

	"curvelint/diagnostics/checks"
	"curvelint/diagnostics/config"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
)

// ConfigNotes returns the notes on a configuration's own file: what is wrong in
// it, and the allowances that no file needed although at least one could have.
// Uses are those of the results of all files judged by it. Spans are in the
// configuration's text, as file 0.
func ConfigNotes(cfg *config.Config, uses ...[]Use) []note.Note {
	var notes []note.Note
	add := func(check string, s config.Span, message string) {
		severity := cfg.SeverityOf(check, checks.Find(check).Severity)
		if severity == note.Off {
			return
		}
		notes = append(notes, note.Note{
			Check: check, Severity: severity, First: 0, Last: -1, Message: message,
			Span:   scene.Span{Start: uint32(s.Start), End: uint32(s.End)},
			PartID: scene.NoPart, Channel: scene.NoChannel,
		})
	}
	for _, p := range cfg.Problems {
		add(checks.Config, p.Span, p.Message)
	}
	for i := range cfg.Allows {
		best := Elsewhere
		for _, u := range uses {
			if i < len(u) {
				best = max(best, u[i])
			}
		}
		if best == Unused {
			a := &cfg.Allows[i]
			add(checks.UnusedAllow, a.Span, fmt.Sprintf("this allowance of %s at %s is not needed; remove it, or correct its part and frames", a.Check, a.Match))
		}
	}
	sortNotes(notes)
	return notes
}
