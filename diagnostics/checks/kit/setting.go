package kit

import (
	"fmt"

	"curvelint/diagnostics/motion/clip"
)

// Setting is one value that the configuration may change for a check: a
// Number or Seconds. Each is declared once, beside the check that
// lists it, and only that check's runs can read it.
type Setting interface {
	// About describes the setting for the configuration and the documents.
	About() SettingInfo
}

// SettingInfo describes a setting.
type SettingInfo struct {
	// Name is the key in the configuration: lower case words joined by
	// underscores, like the configuration's other keys.
	Name string
	// Unit is one of those listed at note.Measure.
	Unit string
	// Doc is one sentence.
	Doc string
	// Default applies when the configuration says nothing; Min and Max bound
	// what it may say, both included.
	Default, Min, Max float64
}

// Number is a setting with a unit other than seconds.
type Number struct {
	Name, Unit, Doc   string
	Default, Min, Max float64
}

// About describes the number.
func (n *Number) About() SettingInfo {
	return SettingInfo{Name: n.Name, Unit: n.Unit, Doc: n.Doc, Default: n.Default, Min: n.Min, Max: n.Max}
}

// In returns the number as a run of its check has it, in its unit.
func (n *Number) In(c *Context) float64 { return c.value(n) }

// Seconds is a setting that is a time.
type Seconds struct {
	Name, Doc         string
	Default, Min, Max float64
}

// About describes the time.
func (s *Seconds) About() SettingInfo {
	return SettingInfo{Name: s.Name, Unit: "s", Doc: s.Doc, Default: s.Default, Min: s.Min, Max: s.Max}
}

// In returns the time as a run of its check has it, in seconds.
func (s *Seconds) In(c *Context) float64 { return c.value(s) }

// Frames returns the time in whole frames of the study, at least one.
func (s *Seconds) Frames(c *Context) int { return c.Study.Window(c.value(s)) }

// Limit is a number that decides whether there is a note and that nobody is
// expected to change: it stands in the block of limits beside its check, and
// the check's document is printed with it.
type Limit struct {
	// Name is lower case words joined by underscores, like a setting's.
	Name string
	// Value is in Unit, one of those listed at note.Measure.
	Value float64
	Unit  string
	// Doc is one sentence that says what lies on which side of the value.
	Doc string
	// Source is where the value comes from: a publication, a measurement with
	// its place in testdata, or "common practice, no source".
	Source string
}

// Frames returns a limit in seconds as whole frames at a rate, at least one. It
// panics when the limit is no time, which is a mistake in the check.
func (l *Limit) Frames(rate float64) int {
	if l.Unit != "s" {
		panic(fmt.Sprintf("checks: limit %s is in %s, not in seconds", l.Name, l.Unit))
	}
	return clip.Window(rate, l.Value)
}
