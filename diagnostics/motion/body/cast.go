package body

import (
	"cmp"
	"slices"
	"sync"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion/solve"
	"curvelint/parse/scene"
)

// Cast is all figures of a scene. It may be shared by concurrent readers.
type Cast struct {
	*solve.Hierarchy
	rules Rules

	once      sync.Once
	anatomies []*Anatomy
	indexOf   []int32 // by part: index into anatomies or -1

	upOnce sync.Once
	upAxis r3.Vec
}

// NewCast prepares to find the figures of a scene, which happens when they are first
// asked for.
func NewCast(h *solve.Hierarchy, r Rules) *Cast { return &Cast{Hierarchy: h, rules: r} }

// Anatomies returns the figures of the scene, in the order of their roots.
func (c *Cast) Anatomies() []*Anatomy {
	c.once.Do(func() {
		c.indexOf = make([]int32, len(c.Scene.Parts))
		for i := range c.indexOf {
			c.indexOf[i] = -1
		}
		f := newFinder(c)
		var roots []scene.PartID
		for i := range c.Scene.Parts {
			if c.Scene.Parts[i].Parent == scene.NoPart {
				roots = append(roots, scene.PartID(i))
			}
		}
		f.configured()
		f.split(scene.NoPart, roots)
		slices.SortStableFunc(f.found, func(a, b *Anatomy) int { return cmp.Compare(a.Root, b.Root) })
		for i, fig := range f.found {
			fig.Index = i
			for _, p := range fig.Parts {
				c.indexOf[p] = int32(i)
			}
		}
		c.anatomies = f.found
		for _, fig := range f.found {
			fig.complete()
		}
	})
	return c.anatomies
}

// IndexOf returns the index of the figure that a part belongs to, or -1.
func (c *Cast) IndexOf(p scene.PartID) int {
	c.Anatomies()
	if p < 0 || int(p) >= len(c.indexOf) {
		return -1
	}
	return int(c.indexOf[p])
}

// carrierOf returns what carries a part as configured, or NoPart.
func (c *Cast) carrierOf(p scene.PartID) scene.PartID {
	if c.rules.Carriers == nil {
		return scene.NoPart
	}
	return c.rules.Carriers[p]
}
