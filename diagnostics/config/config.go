// Package config reads curvelint.toml: which range of a shot is judged, what
// its parts are, how severe each check is, what is allowed on purpose, and
// which file is the earlier pass of which. Reading is strict: whatever it does
// not know is a problem at its place, and the rest still counts.
package config

import (
	"math"

	"curvelint/diagnostics/note"
)

// FileName is the name under which a configuration is found.
const FileName = "curvelint.toml"

// Config is what one curvelint.toml says, or nothing: the zero value is the
// configuration of a shot that has none. It is read-only once loaded.
type Config struct {
	// Path is the file it was read from and Text its bytes; both are empty
	// when there is none.
	Path string
	Text []byte

	// FPS is the rate in frames per second; 0 keeps the file's.
	FPS float64
	// FirstFrame is the number of the shot's first frame, when HasFirstFrame.
	FirstFrame    float64
	HasFirstFrame bool
	// Frames is the range that is judged, when HasFrames.
	Frames    Frames
	HasFrames bool
	// Step is 1 for motion on ones, 2 for twos, 0 when it is to be found out.
	Step int
	// Camera is the path of the shot's camera and Focus the group that the
	// audience should watch; "" when it is to be found out.
	Camera, Focus string
	// Clip is the name of the animation to study in a file that holds several;
	// "" is the first.
	Clip string
	// Floor is a height in scene units, when HasFloor.
	Floor    float64
	HasFloor bool
	// Handles is the number of frames at both ends that are not judged.
	Handles int
	// Aspect is the picture's width over its height; 0 means the camera's.
	Aspect float64
	// Lead is the order in which groups usually start; nil when not given.
	Lead []string
	// Loop is true for a cycle.
	Loop bool

	Groups  []Group
	Parts   []Part
	Figures []Figure
	Points  []Point
	Chains  []Chain
	Allows  []Allow
	Passes  []Pass
	// Checks holds what is said of checks, by their id.
	Checks map[string]Check

	// Problems are what is wrong with the file, in its order.
	Problems []Problem

	// Mentions are the places where the file names something of a scene.
	Mentions []Mention
}

// Span is a range of bytes [Start, End) of the configuration's text.
type Span struct{ Start, End int }

// Problem is something wrong with the configuration. Message says what was
// expected and what to do, without a trailing full stop.
type Problem struct {
	Span    Span
	Message string
}

// Group is a named set of parts.
type Group struct {
	Name  string
	Match Globs
}

// Kind says how a part is judged.
type Kind uint8

// The kinds of parts; Unsaid leaves it to the parts above.
const (
	Unsaid Kind = iota
	Living
	Mechanical
)

// Part says how the matching parts are judged and what carries them.
type Part struct {
	Match   Globs
	Kind    Kind
	Carrier string // the path of a part, "" when not given
}

// Figure is one body: the matching parts and all that hangs below them.
type Figure struct{ Match Globs }

// Point is a point of a figure whose path is studied, on every matching part.
type Point struct {
	Name   string // "" for the part's own
	Match  Globs
	Role   string     // one of PointRoles, "" for a mere tip
	Offset [3]float64 // in the part's own frame, in scene units
}

// PointRoles are what a tracked point can be of a body.
var PointRoles = []string{"root", "head", "hand", "heel", "toe"}

// Chain is a flexible chain of parts: a tail, a rope.
type Chain struct {
	Name  string
	Match Globs
}

// Allow permits what a check finds at certain parts and frames.
type Allow struct {
	Check string
	Match Globs
	// File limits it to files with a matching path, seen from the folder of
	// the configuration; none means all files.
	File Globs
	// Frames limits it, when HasFrames. Stroke, when HasStroke, is the range
	// of the stroke that was meant: the frames follow it when it moves.
	Frames    Frames
	HasFrames bool
	Stroke    Frames
	HasStroke bool
	Why       string
	// Span is the entry's header.
	Span Span
}

// Check is what the configuration says of one check.
type Check struct {
	// Severity applies when HasSeverity; note.Off switches the check off.
	Severity    note.Severity
	HasSeverity bool
	Settings    map[string]float64
}

// Schema is what the reader must know of the checks, so that this package need
// not know them.
type Schema struct{ Checks []CheckSchema }

// CheckSchema describes one check.
type CheckSchema struct {
	ID       string
	Settings []SettingSchema
}

// SettingSchema describes one setting of a check; Min and Max are included.
type SettingSchema struct {
	Name, Unit        string
	Default, Min, Max float64
}

// isSwitch reports whether the setting may be written as false or true.
func (s *SettingSchema) isSwitch() bool { return s.Unit == "" && s.Min == 0 && s.Max == 1 }

// check returns the schema of the check with the given id, or nil.
func (s *Schema) check(id string) *CheckSchema {
	for i := range s.Checks {
		if s.Checks[i].ID == id {
			return &s.Checks[i]
		}
	}
	return nil
}

// ids returns the ids of all checks.
func (s *Schema) ids() []string {
	ids := make([]string, len(s.Checks))
	for i := range s.Checks {
		ids[i] = s.Checks[i].ID
	}
	return ids
}

// SeverityOf returns the severity of a check whose own is usual.
func (c *Config) SeverityOf(check string, usual note.Severity) note.Severity {
	if k, ok := c.Checks[check]; ok && k.HasSeverity {
		return k.Severity
	}
	return usual
}

// Judged returns the first and last frame that are judged of a clip with the
// given range, both included; last < first when nothing is left.
func (c *Config) Judged(first, last float64) (float64, float64) {
	first, last = first+float64(c.Handles), last-float64(c.Handles)
	if c.HasFrames {
		first, last = math.Max(first, c.Frames.First), math.Min(last, c.Frames.Last)
	}
	return first, last
}
