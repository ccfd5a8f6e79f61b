// Package note defines what a check gives: one finding at one place in a scene
// file.
package note

import "curvelint/parse/scene"

// Severity says how sure and how serious a note is.
//
//   - Error: the tool cannot do its work here (syntax, configuration).
//   - Warning: an audience would very likely see a fault.
//   - Information: probably not meant; worth a look.
//   - Hint: meant, but there is a better way; editors keep hints out of the
//     list of problems, so a hint should carry a fix.
type Severity uint8

// The severities, most serious first. Off is the configuration's word for a
// check that does not run.
const (
	Off Severity = iota
	Error
	Warning
	Information
	Hint
)

var severityNames = [...]string{"off", "error", "warning", "information", "hint"}

// String returns the severity's name in output and configuration.
func (s Severity) String() string { return severityNames[s] }

// ParseSeverity is the inverse of String.
func ParseSeverity(name string) (Severity, bool) {
	for i, n := range severityNames {
		if n == name {
			return Severity(i), true
		}
	}
	return Off, false
}

// Tag marks a note for special display.
type Tag uint8

// Unnecessary marks keys that could go without a change.
const Unnecessary Tag = 1

// Measure is one number behind a note. Units in use: figure, figure/s, frames,
// s, degrees, degrees/s, range, range/s, ratio, count, pictures, m.
type Measure struct {
	Name  string  `json:"name"`
	Value float64 `json:"value"`
	Unit  string  `json:"unit"`
}

// Related is another place that a note speaks of.
type Related struct {
	Span        scene.Span
	Part        string
	First, Last float64
	Message     string
}

// Note is one finding. The span is one number: the driver's value at the
// first frame (its column in BVH, its element in a skeleton sample), or a
// header where keys have no place of their own.
type Note struct {
	Check    string
	Severity Severity
	// Weight ranks notes of one file: higher is seen more. Unitless, >= 0.
	Weight float64
	// Part is the path of the part, "" for a note on the file.
	Part string
	// First and Last are display frames, both included; Last < First for a
	// note that is about no frames, such as a problem of the file.
	First, Last float64
	Span        scene.Span
	Message     string
	Measures    []Measure
	Related     []Related
	Tags        []Tag

	// PartID and Channel are the driver, for fixes and for merging; NoPart
	// and NoChannel where there is none.
	PartID  scene.PartID
	Channel scene.ChannelID
	// Causes are parts that the note explains: a less specific note on one
	// of them in the same frames is dropped. They may be nil.
	Causes []scene.PartID
}

// HasFrames reports whether the note is about frames.
func (n *Note) HasFrames() bool { return n.First <= n.Last }
