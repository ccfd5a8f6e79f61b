// Package tool holds what is found about a file, the configuration and the
// program itself rather than about the motion: findings. They have the shape of
// checks, so that they are listed, explained and configured alike; most are made
// elsewhere and have no Run.
package tool

import (
	_ "embed"
	"fmt"

	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/note"
	"curvelint/diagnostics/words"
	"curvelint/parse/scene"
)

// The ids of the findings that are made outside this package.
const (
	StillBlocked = "still-blocked"
	UnusedAllow  = "unused-allow"
	Config       = "config"
	Internal     = "internal"
)

// Checks are the findings, in the order of their list.
var Checks = []*kit.Check{
	{ID: "syntax", Severity: note.Error, Group: kit.Tool, Title: "text that breaks the format", Doc: syntaxDoc},
	{ID: "unsupported", Severity: note.Information, Group: kit.Tool, Title: "a construct that is skipped", Doc: unsupportedDoc},
	{ID: "missing-file", Severity: note.Warning, Group: kit.Tool, Title: "a file that could not be read", Doc: missingFileDoc},
	{ID: "partial-export", Severity: note.Warning, Group: kit.Tool, Title: "a file that ends early", Doc: partialExportDoc},
	{ID: "surplus", Severity: note.Warning, Group: kit.Tool, Title: "more in a file than it says", Doc: surplusDoc},
	{ID: StillBlocked, Severity: note.Information, Group: kit.Tool, Title: "poses that jump, not yet splined", Doc: stillBlockedDoc, Run: stillBlocked},
	{ID: UnusedAllow, Severity: note.Hint, Group: kit.Tool, Title: "an allowance that nothing needs", Doc: unusedAllowDoc},
	{ID: Config, Severity: note.Error, Group: kit.Tool, Title: "a mistake in curvelint.toml", Doc: configDoc},
	{ID: Internal, Severity: note.Error, Group: kit.Tool, Title: "a fault of curvelint itself", Doc: internalDoc},
}

// stillBlocked gives one note for each figure that is still in blocking, over
// the whole range that is judged.
func stillBlocked(c *kit.Context) []note.Note {
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
				words.Frame(s.Frame(first)), words.Frame(s.Frame(last)), part.Name),
		})
	}
	return notes
}

//go:embed syntax.md
var syntaxDoc string

//go:embed unsupported.md
var unsupportedDoc string

//go:embed missing_file.md
var missingFileDoc string

//go:embed partial_export.md
var partialExportDoc string

//go:embed surplus.md
var surplusDoc string

//go:embed still_blocked.md
var stillBlockedDoc string

//go:embed unused_allow.md
var unusedAllowDoc string

//go:embed config.md
var configDoc string

//go:embed internal.md
var internalDoc string
