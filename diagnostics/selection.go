package diagnostics

import (
	"fmt"
	"slices"

	"curvelint/diagnostics/checks"
	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/config"
	"curvelint/diagnostics/note"
)

// Selection limits which checks give notes. The notes of a selection are those
// of all checks, less the others: what gives way to a note of a check that is
// not selected stays away too.
type Selection struct {
	Only []string // ids; none means all
	Skip []string
}

// Validate returns an error that names the first unknown id.
func (s Selection) Validate() error {
	for _, id := range slices.Concat(s.Only, s.Skip) {
		if checks.Find(id) == nil {
			var known []string
			for _, c := range Checks() {
				known = append(known, c.ID)
			}
			return fmt.Errorf("unknown check %q; %s", id, config.ExpectedCheck(id, known))
		}
	}
	return nil
}

// shows reports whether notes of a check are wanted. Errors are, unless they
// are skipped by name: without them, silence would look like praise.
func (s Selection) shows(c *kit.Check) bool {
	if slices.Contains(s.Skip, c.ID) {
		return false
	}
	return len(s.Only) == 0 || slices.Contains(s.Only, c.ID) || c.Severity == note.Error
}

// toRun returns the checks that must run for the selection: those that it
// shows and those they may give way to. What the configuration switches off
// does not run.
func (s Selection) toRun(cfg *config.Config) []*kit.Check {
	var run []*kit.Check
	for _, c := range Checks() {
		if c.Run == nil || cfg.SeverityOf(c.ID, c.Severity) == note.Off {
			continue
		}
		needed := s.shows(c)
		for _, other := range checks.All {
			needed = needed || s.shows(other) && yields(other.ID, c.ID)
		}
		if needed {
			run = append(run, c)
		}
	}
	return run
}

// Shown returns those of the notes that the selection wants.
func (s Selection) Shown(notes []note.Note) []note.Note {
	return slices.DeleteFunc(slices.Clone(notes), func(n note.Note) bool {
		c := checks.Find(n.Check)
		return c != nil && !s.shows(c)
	})
}
