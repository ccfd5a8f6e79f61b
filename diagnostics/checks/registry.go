// Package checks lists the checks. Each stands in the folder of its group, in a
// file named after it, with the document that a person reads about it beside it
// and its labelled cases in testdata/checks. A check is a function of a motion
// study and its settings; it knows no file format and no editor. What several
// checks use is in kit.
//
// Words: a check is a rule, a note is what it says at one place of a file, a
// candidate (kit.Candidate) is what was seen on a track before its cause is
// known, and a finding (package tool) is about the file or the run.
package checks

import (
	"slices"

	"curvelint/diagnostics/checks/contact"
	"curvelint/diagnostics/checks/holds"
	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/checks/noise"
	"curvelint/diagnostics/checks/paths"
	"curvelint/diagnostics/checks/spacing"
	"curvelint/diagnostics/checks/staging"
	"curvelint/diagnostics/checks/timing"
	"curvelint/diagnostics/checks/tool"
)

// All are the checks of motion, in the order of the catalogue: by group, then
// as people meet them.
var All = slices.Concat(timing.Checks, spacing.Checks, holds.Checks, paths.Checks,
	noise.Checks, contact.Checks, staging.Checks)

// Find returns the check with the given id, of motion or of the tool, or nil.
func Find(id string) *kit.Check {
	for _, list := range [][]*kit.Check{All, tool.Checks} {
		for _, c := range list {
			if c.ID == id {
				return c
			}
		}
	}
	return nil
}
