package diagnostics

import (
	"fmt"
	"slices"

	"curvelint/diagnostics/checks"
	"curvelint/diagnostics/checks/tool"
	"curvelint/diagnostics/config"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
)

// ConfigNotes returns the notes on a configuration's own file: what is wrong in
// it, the allowances that no file needed although at least one could have, and
// the names that no file has. Uses are those of the results of all files judged by it. Spans are in the
// configuration's text, as file 0.
func ConfigNotes(cfg *config.Config, uses ...*Uses) []note.Note {
	var notes []note.Note
	add := func(check string, usual note.Severity, s config.Span, message string) {
		severity := cfg.SeverityOf(check, usual)
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
		add(tool.Config, checks.Find(tool.Config).Severity, p.Span, p.Message)
	}
	for i := range cfg.Allows {
		best := Elsewhere
		for _, u := range uses {
			if i < len(u.Allows) {
				best = max(best, u.Allows[i])
			}
		}
		if best == Unused {
			a := &cfg.Allows[i]
			add(tool.UnusedAllow, checks.Find(tool.UnusedAllow).Severity, a.Span, fmt.Sprintf("this allowance of %s at %s is not needed; remove it, or correct its part and frames", a.Check, a.Match))
		}
	}
	for i := range cfg.Mentions {
		if message := nowhere(&cfg.Mentions[i], uses); message != "" {
			add(tool.Config, note.Hint, cfg.Mentions[i].Span, message)
		}
	}
	sortNotes(notes)
	return notes
}

// nowhere says what is missing of a name that no file has, or nothing.
func nowhere(m *config.Mention, uses []*Uses) string {
	message := ""
	for _, u := range uses {
		at := slices.IndexFunc(u.Unmet, func(n Unmet) bool { return n.What == m.What && n.Name == m.Text })
		if at < 0 {
			return ""
		}
		message = u.Unmet[at].Message
	}
	return message
}
