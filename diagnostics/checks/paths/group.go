// Package paths holds the checks of the path that a point draws: arcs that are
// flat, kinked, bent at one end only, or turned about a single joint.
//
// The arc of a move is its path; the chord runs straight from its first to its last
// position; arc depth is the largest distance of the path from the chord, over the
// length of the chord.
package paths

import "curvelint/diagnostics/checks/kit"

// Checks are the checks of the group, as people meet them.
var Checks = []*kit.Check{
	FlatArc,
	PivotArc,
	KinkedArc,
	LateArc,
}
