// Package spacing holds the checks of how far a part goes from one frame to the
// next: even spacing, hitches, moves that leave or arrive at full speed.
//
// A spacing is the distance between two neighbouring frames (for turns an angle,
// for shape weights a share of the range); spacing contrast is the largest spacing
// less the smallest, over their mean; a move leaves a hold and arrives in one.
package spacing

import "curvelint/diagnostics/checks/kit"

// Checks are the checks of the group, as people meet them.
var Checks = []*kit.Check{
	EvenSpacing,
	Hitch,
	HardStart,
	HardStop,
	NoAnticipation,
	SplineOvershoot,
	MixedStepping,
}
