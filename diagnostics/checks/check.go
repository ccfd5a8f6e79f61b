// Package checks holds the checks: one file each, named after the check, with
// the document that a person reads about it beside it. A check is a pure
// function of a motion study and its settings; it knows no file format and no
// editor. To add one, write its file and its document and add it to All.
package checks

import (
	"context"
	"fmt"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
)

// Group is the heading under which a check stands in lists and documents.
type Group string

// The groups, in the order in which they are listed.
const (
	Timing  Group = "Timing"
	Spacing Group = "Spacing"
	Holds   Group = "Holds"
	Paths   Group = "Paths"
	Noise   Group = "Noise"
	Contact Group = "Contact"
	Staging Group = "Staging"
	// Tool is the group of what is found about the file and the run rather
	// than about the motion. Most of its checks have no Run.
	Tool Group = "Tool"
)

// Check is one rule that gives notes. Its values are constant after the
// program has started.
type Check struct {
	// ID names the check everywhere: in output, configuration, documents and
	// file names (with _ for -). It is lower case words joined by hyphens.
	ID string
	// Severity is the check's own; the configuration may set another.
	Severity note.Severity
	Group    Group
	// Title says in a few words what the check finds: "equal spacing through
	// a stroke".
	Title string
	// Doc is a Markdown document for animators: what it is, why an audience
	// feels it, how to fix it, when it is right to ignore it, its settings.
	Doc      string
	Settings []Setting
	// SilentWhenBlocked is true for checks that mean nothing while a figure
	// is still blocked: spacing, arcs and offsets.
	SilentWhenBlocked bool
	// YieldsTo names more specific checks: a note of this check gives way to
	// one of theirs about the same frames and a related part, since both have
	// one cause. It carries on: what yields to a check yields to all that
	// this one yields to.
	YieldsTo []string
	// Run returns the notes in any order. Severity is filled in afterwards
	// where it is left at note.Off; Check always is. It is nil for what the
	// tool finds outside the motion.
	Run func(*Context) []note.Note
}

// Setting is one number that the configuration may change for a check. A
// switch is a setting with the bounds 0 and 1 and no unit; the configuration
// may then write false and true.
type Setting struct {
	// Name is the key in the configuration: lower case words joined by
	// underscores, like the configuration's other keys.
	Name string
	// Unit is one of those listed at note.Measure, "" for a switch.
	Unit string
	// Doc is one sentence.
	Doc string
	// Default applies when the configuration says nothing; Min and Max bound
	// what it may say, both included.
	Default, Min, Max float64
}

// Context is what a check is given.
type Context struct {
	// Ctx ends when nobody waits for the notes any more. A check that loops
	// over parts looks at Ctx.Err now and then and returns early.
	Ctx   context.Context
	Study *motion.Study
	// Severity is the one configured for the check.
	Severity note.Severity

	check    *Check
	settings map[string]float64
}

// NewContext returns the context of one run of a check. Severity note.Off
// stands for the check's own. Settings holds what the configuration says of
// the check's settings; it may be nil.
func NewContext(ctx context.Context, s *motion.Study, c *Check, severity note.Severity, settings map[string]float64) *Context {
	if severity == note.Off {
		severity = c.Severity
	}
	return &Context{Ctx: ctx, Study: s, Severity: severity, check: c, settings: settings}
}

// Setting returns the value of a setting: as configured, else its default. It
// panics if the check has no setting of that name, which is a mistake in the
// check.
func (c *Context) Setting(name string) float64 {
	for i := range c.check.Settings {
		s := &c.check.Settings[i]
		if s.Name != name {
			continue
		}
		if v, ok := c.settings[name]; ok {
			return v
		}
		return s.Default
	}
	panic(fmt.Sprintf("checks: %s has no setting %q", c.check.ID, name))
}

// On reports whether a switch is on.
func (c *Context) On(name string) bool { return c.Setting(name) != 0 }
