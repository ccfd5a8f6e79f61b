// Package timing holds the checks of when the parts of a body move: what starts
// on one frame, who leads, what follows late, how long a look is held.
//
// A change is a start, a stop or a turn of a group; a beat is a set of moves of
// several groups that belong to one action; the lead is the group that sets off
// first; drag is how much later a joint moves than the one that carries it.
package timing

import "curvelint/diagnostics/checks/kit"

// Checks are the checks of the group, as people meet them.
var Checks = []*kit.Check{
	SameFrame,
	LostLead,
	TwinnedPose,
	Lockstep,
	LateFollow,
	CrowdedBeat,
	MaskedChange,
	RushedRead,
}
