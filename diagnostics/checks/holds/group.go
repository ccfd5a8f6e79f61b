// Package holds holds the checks of poses that are kept: frozen ones, ones that
// slide as a cut-out, stares, settles that go on too long.
//
// A hold is a rest of at least a quarter of a second, dead (nothing changes) or
// living (it drifts); a settle is the small swing that follows a move before it
// rests.
package holds

import "curvelint/diagnostics/checks/kit"

// Checks are the checks of the group, as people meet them.
var Checks = []*kit.Check{
	FrozenHold,
	UniformDrift,
	DeadStare,
	LooseSettle,
}
