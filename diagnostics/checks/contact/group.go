// Package contact holds the checks of what touches something, and of the body that
// bears on it: feet that slide, hands that slip, knees that snap, falls, balance,
// the seam of a cycle.
//
// A contact is a stretch of frames in which a point rests on the floor, on what
// carries the figure, or on a prop; a grip is the contact of a hand with a prop or
// with the other hand; lock is a limb stretched straight.
package contact

import "curvelint/diagnostics/checks/kit"

// Checks are the checks of the group, as people meet them.
var Checks = []*kit.Check{
	SlidingContact,
	GripSlip,
	SunkContact,
	KneePop,
	BackwardBend,
	FreeFall,
	OffBalance,
	LoopSeam,
}
