package kit

import (
	"context"
	"fmt"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
)

// Context is what a check is given.
type Context struct {
	// Ctx ends when nobody waits for the notes any more. A check that loops
	// over parts looks at Ctx.Err now and then and returns early.
	Ctx   context.Context
	Study *motion.Study
	// Severity is the one configured for the check.
	Severity note.Severity

	check  *Check
	values []float64 // of the check's settings
}

// NewContext returns the context of one run of a check. Severity note.Off
// stands for the check's own. Settings holds what the configuration says of
// the check's settings; it may be nil.
func NewContext(ctx context.Context, s *motion.Study, c *Check, severity note.Severity, settings map[string]float64) *Context {
	if severity == note.Off {
		severity = c.Severity
	}
	values := make([]float64, len(c.Settings))
	for i, v := range c.Settings {
		about := v.About()
		values[i] = about.Default
		if given, ok := settings[about.Name]; ok {
			values[i] = given
		}
	}
	return &Context{Ctx: ctx, Study: s, Severity: severity, check: c, values: values}
}

// value returns what a setting is in this run. It panics when the setting is
// another check's, which is a mistake in the check.
func (c *Context) value(s Setting) float64 {
	for i, own := range c.check.Settings {
		if own == s {
			return c.values[i]
		}
	}
	panic(fmt.Sprintf("checks: %s has no setting %q", c.check.ID, s.About().Name))
}

// Living returns the figures that are judged.
func (c *Context) Living() []*motion.Figure {
	var out []*motion.Figure
	for _, fig := range c.Study.Figures() {
		if c.Study.NatureOf(fig.Root) == motion.Living {
			out = append(out, fig)
		}
	}
	return out
}
