package body

import (
	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion/solve"
	"curvelint/parse/scene"
)

// found are the figures of a scene without any configuration.
func found(sc *scene.Scene) []*Anatomy { return NewCast(solve.New(sc), Rules{}).Anatomies() }

func near(a, b r3.Vec, tolerance float64) bool { return r3.Norm(r3.Sub(a, b)) <= tolerance }
