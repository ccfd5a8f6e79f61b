// Package staging holds the checks of the picture: a focus that leaves it, motion
// that pulls the eye from the face, what passes in front of the face. They say
// nothing in a scene without a camera.
//
// The focus is the group that an audience should watch; lengths are in picture
// heights.
package staging

import "curvelint/diagnostics/checks/kit"

// Checks are the checks of the group, as people meet them.
var Checks = []*kit.Check{
	OutOfFrame,
	SplitAttention,
	CrossedFace,
}
