package page

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion"
)

// onto takes positions of one pass to the units and axes of another, whose format
// may differ.
type onto struct {
	from, to [3]r3.Vec // right, up and towards the viewer
	scale    float64
}

// place returns where a position of the one pass is in the other; a nil onto
// leaves it.
func (o *onto) place(p r3.Vec) r3.Vec {
	if o == nil {
		return p
	}
	var q r3.Vec
	for i := range o.from {
		q = r3.Add(q, r3.Scale(o.scale*r3.Dot(p, o.from[i]), o.to[i]))
	}
	return q
}

// between returns what takes positions of before to now, nil when that is
// nothing.
func between(before, now *motion.Study) *onto {
	o := &onto{axes(before.Up()), axes(now.Up()), unitOf(before, now)}
	if o.scale == 1 && o.from == o.to {
		return nil
	}
	return o
}

// axes are right, up and towards the viewer for somebody in front of a figure.
func axes(up r3.Vec) [3]r3.Vec {
	right := r3.Vec{X: 1}
	if math.Abs(up.X) > 0.9 {
		right = r3.Vec{Y: 1}
	}
	return [3]r3.Vec{right, up, r3.Cross(right, up)}
}

// sameUnit is how far the sizes of one figure in two passes may be apart when
// both are in one unit. Common practice, no source.
const sameUnit = 1.25

// unitOf is how many units of now are one of before: as the files say, else as
// the sizes of a figure of the same name do.
func unitOf(before, now *motion.Study) float64 {
	if a, b := before.Scene.MetersPerUnit, now.Scene.MetersPerUnit; a > 0 && b > 0 {
		return a / b
	}
	for _, f := range now.Figures() {
		for _, g := range before.Figures() {
			if now.Scene.Parts[f.Root].Name != before.Scene.Parts[g.Root].Name || !(f.Size > 0 && g.Size > 0) {
				continue
			}
			if k := f.Size / g.Size; k > sameUnit || k < 1/sameUnit {
				return k
			}
			return 1
		}
	}
	return 1
}
