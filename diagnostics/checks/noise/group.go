// Package noise holds the checks of what no animator meant: pops, trembles, angles
// that flip by a whole turn, keys between frames, keys that do nothing.
//
// A pop is one frame out of place; a tremble is a run of small reversals; an idle
// key changes nothing when it is taken out.
package noise

import "curvelint/diagnostics/checks/kit"

// Checks are the checks of the group, as people meet them.
var Checks = []*kit.Check{
	Pop,
	Jitter,
	AngleFlip,
	SubFrameKey,
	IdleKey,
}
