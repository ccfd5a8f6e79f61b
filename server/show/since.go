package show

import (
	"fmt"
	"path/filepath"
	"slices"

	"curvelint/diagnostics/note"
	"curvelint/diagnostics/passes"
	"curvelint/diagnostics/words"
)

// sinceText says what changed since the earlier pass; "" when nothing did.
func sinceText(c *passes.Comparison, change string) string {
	if change == "" {
		return ""
	}
	return "since " + PassName(c) + ": " + change
}

// PassName names the earlier pass by its file.
func PassName(c *passes.Comparison) string { return filepath.Base(c.Before.Scene.Files[0].Path) }

// fixedLines say which notes on a part are gone since the earlier pass.
func fixedLines(c *passes.Comparison, path string) (lines []sheetLine) {
	for i := range c.Notes.Fixed {
		if n := &c.Notes.Fixed[i]; n.Part == path {
			lines = append(lines, sheetLine{fmt.Sprintf("fixed since %s, %s:", PassName(c), words.Span(n.First, n.Last)), n.Check})
		}
	}
	return lines
}

// isNew reports whether a note was not on the earlier pass.
func isNew(c *passes.Comparison, n *note.Note) bool {
	return slices.ContainsFunc(c.Notes.New, func(m note.Note) bool {
		return m.Check == n.Check && m.Part == n.Part && m.First == n.First && m.Last == n.Last
	})
}
