package checks

import (
	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion"
	"curvelint/parse/scene"
)

// seenWorlds are the transforms of a part at the frame indices a to b-1 as an
// audience sees them: in the world, or on what carries the figure.
func (c *Context) seenWorlds(fig *motion.Figure, p scene.PartID, a, b int) []motion.Affine {
	s := c.Study
	seen := s.Worlds(p, a, b)
	if fig.Carrier != scene.NoPart {
		for i, m := range s.Worlds(fig.Carrier, a, b) {
			back := m.Inverse()
			seen[i] = back.Mul(&seen[i])
		}
	}
	return seen
}

// seenTurn is how far a part turns from frame index a to b as an audience sees it,
// in degrees.
func (c *Context) seenTurn(fig *motion.Figure, p scene.PartID, a, b int) float64 {
	seen, way := c.seenWorlds(fig, p, a, b+1), 0.0
	for i := 1; i < len(seen); i++ {
		way += seen[i-1].AngleTo(&seen[i])
	}
	return way
}

// carriedWay is how far the joint of a part is carried from frame index a to b,
// in figure sizes: along its path and from end to end.
func (c *Context) carriedWay(fig *motion.Figure, p scene.PartID, a, b int) (path, chord float64) {
	seen := c.seenWorlds(fig, p, a, b+1)
	size := fig.Size
	if fig.Carrier != scene.NoPart {
		up := c.Study.WorldAt(fig.Carrier, c.Study.Frame(a))
		size /= up.Scale()
	}
	for i := 1; i < len(seen); i++ {
		path += r3.Norm(r3.Sub(seen[i].Origin(), seen[i-1].Origin()))
	}
	chord = r3.Norm(r3.Sub(seen[len(seen)-1].Origin(), seen[0].Origin()))
	return path / size, chord / size
}
