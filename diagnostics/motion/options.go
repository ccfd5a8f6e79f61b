package motion

import "curvelint/diagnostics/motion/body"

// Nature says how a part is judged.
type Nature uint8

// The natures of parts.
const (
	Living     Nature = iota // everything is judged
	Mechanical               // spacing, arcs, holds and offsets are not judged
)

// PartRule says how matching parts are judged and what carries them.
type PartRule struct {
	Match   func(path string) bool
	Nature  Nature
	Carrier string // path of the carrying part, "" for none
}

// Options are what the configuration tells the study. The zero value studies
// everything as the file gives it.
type Options struct {
	Groups []body.GroupRule
	Parts  []PartRule
	// Figures are configured bodies: the matching parts of a rule and all that
	// hangs below them are one.
	Figures []func(path string) bool
	// Points are configured points to track.
	Points []body.PointRule
	// Chains are configured flexible chains, root first: rules that match the
	// members of one chain each.
	Chains []body.GroupRule
	// Focus is the group the audience should watch; "" means the head.
	Focus string
	// Lead is the order in which groups usually start; nil means eyes, head,
	// chest, hips.
	Lead []string
	// Floor is the height of the floor in scene units along the up axis, when
	// HasFloor.
	Floor    float64
	HasFloor bool
	// Step is 1 or 2 for motion on ones or twos; 0 lets the study find out.
	Step int
	// Loop is true for a cycle.
	Loop bool
	// Camera is the path of the shot's camera; "" means the file's default or
	// only one.
	Camera string
	// Aspect is the picture's width over its height; 0 means the camera's.
	Aspect float64
	// First and Last limit what is judged, in display frames, when HasRange;
	// Handles frames at both ends of the clip are studied but never judged.
	First, Last float64
	HasRange    bool
	Handles     int
}
