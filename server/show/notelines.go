package show

import (
	"curvelint/diagnostics/fixes"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
)

// Concerns reports whether a note is about a part: on it, on a channel of it,
// or with a related place on it.
func (s *Shot) Concerns(n *note.Note, p scene.PartID) bool {
	if n.PartID == p {
		return true
	}
	path := s.part(p).Path
	for i := range n.Related {
		if n.Related[i].Part == path {
			return true
		}
	}
	return false
}

// noteLines writes the notes for which about holds, each with the numbers that
// would mend it. It tells which are new since the earlier pass, if that is known.
func (s *Shot) noteLines(about func(*note.Note) bool) (lines []sheetLine) {
	for i := range s.Notes {
		n := &s.Notes[i]
		if !about(n) {
			continue
		}
		text := n.Severity.String() + ": " + n.Message
		if s.Earlier != nil && isNew(s.Earlier, n) {
			text += " (new since " + PassName(s.Earlier) + ")"
		}
		lines = append(lines, sheetLine{text, n.Check})
		if numbers := s.numbersFor(n); numbers != "" {
			lines = append(lines, sheetLine{"to retype:", numbers})
		}
	}
	return lines
}

// longestNumbers bounds the numbers to retype in a hover, in bytes; the action
// that copies them has them all.
const longestNumbers = 240

// numbersFor returns what to retype in the animator's own package to mend what a
// note finds; "" when there is nothing to suggest, or too much for a hover.
func (s *Shot) numbersFor(n *note.Note) string {
	list := fixes.For(s.Study, n)
	for i := range list {
		if f := &list[i]; f.Refused == "" && f.Numbers != "" && len(f.Numbers) <= longestNumbers {
			return f.Numbers
		}
	}
	return ""
}
