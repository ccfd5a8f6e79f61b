package body

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion/vec"
	"curvelint/parse/scene"
)

// Up is the scene's up direction, of length 1. Formats that have no word for it
// (BVH, tables) are Y up by habit, but many are written Z up: there the axis
// along which heads stand over feet is taken when it is clear.
func (c *Cast) Up() r3.Vec {
	c.upOnce.Do(func() {
		switch c.Scene.Up {
		case scene.AxisZ:
			c.upAxis = r3.Vec{Z: 1}
		case scene.AxisX:
			c.upAxis = r3.Vec{X: 1}
		default:
			c.upAxis = r3.Vec{Y: 1}
			if c.Scene.Format == "bvh" || c.Scene.Format == "table" {
				c.upAxis = c.standing(c.upAxis)
			}
		}
	})
	return c.upAxis
}

// clearlyUp is the share of the way from feet to head that must lie along one
// axis for it to be the up axis.
const clearlyUp = 0.85

// standing is the axis along which the named heads stand over the named feet,
// in the mean of five frames of the clip, or otherwise when there are none or
// they do not stand. (Not at rest: a figure may be turned upright by its root's
// own channels.)
func (c *Cast) standing(otherwise r3.Vec) r3.Vec {
	var heads, feet []scene.PartID
	for i := range c.Scene.Parts {
		switch l := ReadName(c.Scene.Parts[i].Name); {
		case l.Body == Head:
			heads = append(heads, scene.PartID(i))
		case l.Body == Leg && l.Place >= End:
			feet = append(feet, scene.PartID(i))
		}
	}
	if len(heads) == 0 || len(feet) == 0 {
		heads, feet = c.standingByShape()
	}
	if len(heads) == 0 || len(feet) == 0 {
		return otherwise
	}
	var d r3.Vec
	for k := range 5 {
		t := c.Frame(k * max(c.N-1, 0) / 4)
		d = r3.Add(d, r3.Sub(c.meanPosition(heads, t), c.meanPosition(feet, t)))
	}
	n := vec.Length(d)
	for _, axis := range []r3.Vec{{X: 1}, {Y: 1}, {Z: 1}} {
		if v := r3.Dot(d, axis); math.Abs(v) >= clearlyUp*n && n > 0 {
			if v < 0 {
				return r3.Scale(-1, axis)
			}
			return axis
		}
	}
	return otherwise
}

// meanPosition is the middle of the parts at display frame t.
func (c *Cast) meanPosition(parts []scene.PartID, t float64) r3.Vec {
	sum := r3.Vec{}
	for _, p := range parts {
		sum = r3.Add(sum, c.WorldPosition(p, t))
	}
	return r3.Scale(1/float64(len(parts)), sum)
}

// standingByShape is what stands over what when names tell of no head and feet:
// where the first pair of limbs leaves the middle of a body over the ends of
// that pair.
func (c *Cast) standingByShape() (above, below []scene.PartID) {
	for i := range c.Scene.Parts {
		if !c.Scene.Parts[i].Figure {
			continue
		}
		fig := &Anatomy{cast: c, Root: scene.PartID(i), labels: map[scene.PartID]Label{}}
		for p := i; p < len(c.Scene.Parts); p++ {
			if p == i || fig.Holds(c.Scene.Parts[p].Parent) {
				fig.Parts = append(fig.Parts, scene.PartID(p))
				fig.labels[scene.PartID(p)] = Label{}
			}
		}
		rest := fig.restPositions()
		fig.Size = fig.findSize(rest)
		outline := newShape(fig, rest, r3.Vec{})
		outline.findPairs()
		outline.findLine()
		if len(outline.limbs) > 1 {
			l := outline.limbs[0]
			for _, top := range l.parts {
				chain := outline.chainFrom(top)
				below = append(below, chain[len(chain)-1])
			}
			return []scene.PartID{outline.line[l.at]}, below
		}
	}
	return nil, nil
}
