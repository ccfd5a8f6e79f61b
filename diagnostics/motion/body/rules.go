package body

import "curvelint/parse/scene"

// Rules are what a configuration tells of the figures of a scene. Without any,
// figures are found as the file gives them.
type Rules struct {
	Groups []GroupRule
	// Figures are configured bodies: the matching parts of a rule and all that
	// hangs below them are one.
	Figures []func(path string) bool
	// Points are configured points to track.
	Points []PointRule
	// Chains are configured flexible chains, root first: rules that match the
	// members of one chain each.
	Chains []GroupRule
	// Carriers says of each part what carries it, or NoPart.
	Carriers []scene.PartID
}

// GroupRule assigns parts to a named group; Match is given a part's path.
type GroupRule struct {
	Name  string
	Match func(path string) bool
}

// PointRule tracks a point on every matching part. A role other than TipPoint
// takes the place of the point of that role and side that would be tracked.
type PointRule struct {
	Name   string // "" for the part's own
	Match  func(path string) bool
	Role   Role
	Offset [3]float64 // in the part's own frame, in scene units
}
