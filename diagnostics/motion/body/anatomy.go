package body

import "curvelint/parse/scene"

// Anatomy is what one figure of a scene is made of. A figure is one body that acts:
// a declared skeleton, or a subtree that moves on its own.
type Anatomy struct {
	cast *Cast

	// Index is the figure's place among those of the scene.
	Index int
	// Root is the highest part; notes on the whole figure sit there.
	Root scene.PartID
	// Parts are all parts of the figure in topological order.
	Parts []scene.PartID
	// Carrier is the part that carries the figure (a deck, a cart): as
	// configured, else the nearest moving part above the root; or NoPart.
	Carrier scene.PartID
	// Size is the figure's size in scene units: see findSize.
	Size float64
	// Unit is metres per scene unit, 0 if unknown.
	Unit   float64
	Groups []*Group
	Points []Point

	labels  map[scene.PartID]Label
	groupOf map[scene.PartID]*Group
	// pairs are the mirror pairs of a figure labelled by its shape, else nil.
	pairs map[scene.PartID]scene.PartID
}

// Holds reports whether a part belongs to the figure.
func (fig *Anatomy) Holds(p scene.PartID) bool { _, ok := fig.labels[p]; return ok }

// LabelOf returns what is known of a part of the figure: from its name, else
// from its place in the hierarchy, else from the shape of the figure.
func (fig *Anatomy) LabelOf(p scene.PartID) Label { return fig.labels[p] }

// complete fills what a figure knows about itself.
func (fig *Anatomy) complete() {
	s := fig.cast
	fig.Unit = s.Scene.MetersPerUnit
	fig.Carrier = s.carrierOf(fig.Root)
	if fig.Carrier == scene.NoPart {
		for p := s.Scene.Parts[fig.Root].Parent; p != scene.NoPart; p = s.Scene.Parts[p].Parent {
			if s.Moves(p) {
				fig.Carrier = p
				break
			}
		}
	}
	rest := fig.restPositions()
	fig.Size = fig.findSize(rest)
	fig.makeLabels(rest)
	fig.makeGroups()
	fig.findPoints(rest)
	fig.configuredPoints()
}
