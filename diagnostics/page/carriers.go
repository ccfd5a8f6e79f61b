package page

import (
	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion/solve"
	"curvelint/parse/scene"
)

// carrierOf is what carries figures and moves, such as a deck.
type carrierOf struct {
	Name string `json:"name"`
	// Ways are float32 in base64, little-endian: for each frame where the carrier's
	// origin is, and from there the ends of its three axes.
	Ways string `json:"ways"`
}

// carriers are what carries the figures that are drawn, and for each figure which of
// them does, -1 for none.
func (c *stage) carriers() (list []carrierOf, of []int) {
	list = []carrierOf{}
	var parts []scene.PartID
	at := map[scene.PartID]int{}
	for _, fig := range c.figures {
		p := fig.Carrier
		if p == scene.NoPart || !c.travels(p) {
			of = append(of, -1)
			continue
		}
		i, known := at[p]
		if !known {
			i = len(parts)
			at[p] = i
			parts = append(parts, p)
		}
		of = append(of, i)
	}
	if len(parts) == 0 {
		return list, of
	}
	ways := make([][]float32, len(parts))
	c.study.EachWorld(parts, 0, c.frames, func(_ int, worlds [][]solve.Affine) {
		for i := range parts {
			for k := range worlds[i] {
				ways[i] = append(ways[i], c.frameOf(&worlds[i][k])...)
			}
		}
	})
	for i, p := range parts {
		list = append(list, carrierOf{c.study.Scene.Parts[p].Name, pack(ways[i])})
	}
	return list, of
}

// travels reports whether a part moves, by itself or with what is above it.
func (c *stage) travels(p scene.PartID) bool {
	for ; p != scene.NoPart; p = c.study.Scene.Parts[p].Parent {
		if c.study.Moves(p) {
			return true
		}
	}
	return false
}

// frameOf is a place with its axes, as positions are on the page.
func (c *stage) frameOf(m *solve.Affine) []float32 {
	out := make([]float32, 0, 12)
	origin := r3.Sub(c.onto.place(m.Origin()), c.origin)
	add := func(v r3.Vec) { out = append(out, float32(v.X), float32(v.Y), float32(v.Z)) }
	add(origin)
	for _, axis := range []r3.Vec{{X: 1}, {Y: 1}, {Z: 1}} {
		add(r3.Sub(r3.Sub(c.onto.place(m.Point(axis)), c.origin), origin))
	}
	return out
}
