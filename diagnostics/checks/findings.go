package checks

import (
	"fmt"
	"strconv"

	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
)

// The ids of the findings that are made outside this package.
const (
	StillBlocked = "still-blocked"
	UnusedAllow  = "unused-allow"
	Config       = "config"
	Internal     = "internal"
)

// Findings are what the tool says about a file, the configuration or itself.
// They have the shape of checks, so that they are listed, explained and
// configured alike.
var Findings = []*Check{
	{ID: "syntax", Severity: note.Error, Group: Tool, Title: "text that breaks the format", Doc: syntaxDoc},
	{ID: "unsupported", Severity: note.Information, Group: Tool, Title: "a construct that is skipped", Doc: unsupportedDoc},
	{ID: "missing-file", Severity: note.Warning, Group: Tool, Title: "a file that could not be read", Doc: missingFileDoc},
	{ID: "partial-export", Severity: note.Warning, Group: Tool, Title: "a file that ends early", Doc: partialExportDoc},
	{ID: "surplus", Severity: note.Warning, Group: Tool, Title: "more in a file than it says", Doc: surplusDoc},
	{ID: StillBlocked, Severity: note.Information, Group: Tool, Title: "poses that jump, not yet splined", Doc: stillBlockedDoc, Run: stillBlocked},
	{ID: UnusedAllow, Severity: note.Hint, Group: Tool, Title: "an allowance that nothing needs", Doc: unusedAllowDoc},
	{ID: Config, Severity: note.Error, Group: Tool, Title: "a mistake in curvelint.toml", Doc: configDoc},
	{ID: Internal, Severity: note.Error, Group: Tool, Title: "a fault of curvelint itself", Doc: internalDoc},
}

// stillBlocked gives one note for each figure that is still in blocking, over
// the whole range that is judged.
func stillBlocked(c *Context) []note.Note {
	s := c.Study
	first, last := s.JudgedRange()
	if last <= first {
		return nil
	}
	var notes []note.Note
	for _, fig := range s.Figures() {
		if c.Ctx.Err() != nil || !fig.StillBlocked() {
			continue
		}
		part := &s.Scene.Parts[fig.Root]
		notes = append(notes, note.Note{
			Part: part.Path, PartID: fig.Root, Channel: scene.NoChannel,
			First: s.Frame(first), Last: s.Frame(last), Span: part.Def,
			Message: fmt.Sprintf("frames %s-%s: %s is still blocked, poses jump from one to the next; spacing, arcs and offsets wait for splines",
				number(s.Frame(first)), number(s.Frame(last)), part.Name),
		})
	}
	return notes
}

// number writes a frame as people say it.
func number(frame float64) string { return strconv.FormatFloat(frame, 'f', -1, 64) }
