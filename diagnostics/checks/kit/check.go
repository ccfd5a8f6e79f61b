package kit

import (
	"strings"

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
	// Limits are the numbers that decide and are not for users to change.
	Limits []*Limit
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

// Folder is the folder of the check's group below that of all checks, in which
// its file, its document and its pictures are.
func (c *Check) Folder() string { return strings.ToLower(string(c.Group)) }
