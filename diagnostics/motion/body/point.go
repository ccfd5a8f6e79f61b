package body

import (
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion/vec"
	"curvelint/parse/scene"
)

// Role says which point of a body a tracked point is.
type Role uint8

// The roles of tracked points.
const (
	TipPoint  Role = iota // the end of some other chain
	RootPoint             // the figure's root
	HeadPoint
	HandPoint
	HeelPoint
	ToePoint
	LonePoint // a lone transform or a tracked position
)

// Point is a point of a figure whose path is studied in world space.
type Point struct {
	Name   string
	Role   Role
	Side   Side
	Part   scene.PartID
	Offset r3.Vec // in the part's own frame
}

// findPoints chooses the figure's tracked points: root, head, hands, heels and
// toes, and the tip of every other chain but fingers and the face.
func (fig *Anatomy) findPoints(rest map[scene.PartID]r3.Vec) {
	s := fig.cast
	if len(fig.Parts) == 1 || !fig.hasBones(rest) {
		fig.addPoint(Point{Name: s.Scene.Parts[fig.Root].Name, Role: LonePoint, Part: fig.Root})
		for _, p := range fig.Parts {
			if p != fig.Root && s.Moves(p) {
				fig.addPoint(Point{Name: s.Scene.Parts[p].Name, Role: LonePoint, Part: p})
			}
		}
		return
	}
	fig.addPoint(Point{Name: "root", Role: RootPoint, Part: fig.Core()})
	if head := fig.highest(Head, NoPlace); head != scene.NoPart {
		fig.addPoint(fig.headPoint(head, rest))
	}
	for _, side := range []Side{Left, Right, Middle} {
		for _, pair := range []byte{0, 'f', 'h'} {
			fig.limbPoints(side, pair)
		}
	}
	fig.tipPoints()
}

// Core returns the part that carries the rest of the body: from the root down
// the first from which several chains go out, the hips or a bird's body. What
// stands above (a file's own node, a master control, a deck) often never moves,
// or moves for others. A figure that does not branch before its head, like a
// tail or a face, has its root for a core.
func (fig *Anatomy) Core() scene.PartID {
	for p := fig.Root; ; {
		var below []scene.PartID
		for _, c := range fig.cast.Children(p) {
			if fig.Holds(c) && fig.bearsChain(c) {
				below = append(below, c)
			}
		}
		if l := fig.labels[p]; l.Body == Head || l.Body == Neck || len(below) == 0 {
			return fig.Root
		}
		if len(below) > 1 {
			return p
		}
		p = below[0]
	}
}

// bearsChain reports whether a part of the figure other than an end hangs below
// p.
func (fig *Anatomy) bearsChain(p scene.PartID) bool {
	return slices.ContainsFunc(fig.cast.Children(p), func(c scene.PartID) bool {
		return fig.Holds(c) && fig.cast.Scene.Parts[c].Kind != scene.Tip
	})
}

// hasBones reports whether some part stands away from its parent at rest.
func (fig *Anatomy) hasBones(rest map[scene.PartID]r3.Vec) bool {
	for _, p := range fig.Parts {
		if up, ok := rest[fig.cast.Scene.Parts[p].Parent]; ok && vec.Distance(up, rest[p]) > 1e-9*fig.Size {
			return true
		}
	}
	return false
}

func (fig *Anatomy) addPoint(p Point) { fig.Points = append(fig.Points, p) }

// highest returns the highest part of the figure with the given body and place
// (NoPlace: any), or NoPart.
func (fig *Anatomy) highest(b Body, place Place) scene.PartID {
	for _, p := range fig.Parts {
		if l := fig.labels[p]; l.Body == b && (place == NoPlace || l.Place == place) && fig.cast.isBone(p) {
			return p
		}
	}
	return scene.NoPart
}

// limbPoints adds the hand, heel and toe of one side.
func (fig *Anatomy) limbPoints(side Side, pair byte) {
	s := fig.cast
	hand, heel, toe, foot := scene.NoPart, scene.NoPart, scene.NoPart, scene.NoPart
	for _, p := range fig.Parts {
		l := fig.labels[p]
		if l.Side != side || l.Pair != pair || !s.isBone(p) {
			continue
		}
		switch {
		case l.Body == Arm && l.Place == End:
			hand = p // the last one along the arm: the hand below the wrist
		case l.Body == Leg && l.Place == End:
			foot = p
		case l.Body == Leg && l.Place == Heel:
			heel = p
		case l.Body == Leg && l.Place == Toe:
			toe = p
		}
	}
	name := func(what string) string { return Label{Side: side, Pair: pair}.sided(what) }
	if hand != scene.NoPart {
		fig.addPoint(Point{Name: name("hand"), Role: HandPoint, Side: side, Part: hand})
	}
	if heel == scene.NoPart {
		heel = foot // an ankle stands over the heel and moves with it
	}
	word := "heel"
	if pair != 0 && heel == foot {
		word = "foot" // of a beast, whose heel is in the air
	}
	if heel != scene.NoPart {
		fig.addPoint(Point{Name: name(word), Role: HeelPoint, Side: side, Part: heel})
	}
	if toe == scene.NoPart && foot != scene.NoPart {
		toe = fig.leafBelow(foot)
	}
	if toe != scene.NoPart && toe != heel {
		if leaf := fig.leafBelow(toe); leaf != scene.NoPart && fig.labels[leaf].Body == Leg {
			toe = leaf
		}
		fig.addPoint(Point{Name: name("toe"), Role: ToePoint, Side: side, Part: toe})
	}
}

// sided is the name of a point with its side: "left front toe".
func (l Label) sided(what string) string {
	switch l.Pair {
	case 'f':
		what = "front " + what
	case 'h':
		what = "hind " + what
	}
	if l.Side == Middle {
		return what
	}
	return l.Side.String() + " " + what
}

// leafBelow follows the first child down to a leaf of the figure; NoPart when p
// has no child in it.
func (fig *Anatomy) leafBelow(p scene.PartID) scene.PartID {
	leaf := scene.NoPart
	for {
		next := scene.NoPart
		for _, c := range fig.cast.Children(p) {
			if fig.Holds(c) && fig.cast.isBone(c) {
				next = c
				break
			}
		}
		if next == scene.NoPart {
			return leaf
		}
		p, leaf = next, next
	}
}

// tipPoints adds the ends of all other chains: tails, wings, ears, ropes.
func (fig *Anatomy) tipPoints() {
	s := fig.cast
	taken := map[scene.PartID]bool{}
	for _, p := range fig.Points {
		taken[p.Part] = true
	}
	for _, p := range fig.Parts {
		if taken[p] || !s.isBone(p) || !fig.isLeaf(p) {
			continue
		}
		l := fig.labels[p]
		switch {
		case l.Body == Fingers || l.Body == Head || l.Body == Neck || l.Body.Face():
			continue
		case (l.Body == Arm && fig.limbHas(Arm, l)) || (l.Body == Leg && fig.limbHas(Leg, l)):
			continue
		case !fig.movesBelowRoot(p):
			continue
		}
		fig.addPoint(Point{Name: s.Scene.Parts[fig.namedPart(p)].Name, Role: TipPoint, Side: l.Side, Part: p})
	}
}

// limbHas reports whether a hand or foot of the limb is already tracked.
func (fig *Anatomy) limbHas(b Body, l Label) bool {
	for _, p := range fig.Points {
		if q := fig.labels[p.Part]; q.Body == b && q.Side == l.Side && q.Pair == l.Pair && p.Role != RootPoint {
			return true
		}
	}
	return false
}

// isLeaf reports whether no transform of the figure hangs below p.
func (fig *Anatomy) isLeaf(p scene.PartID) bool {
	for _, c := range fig.cast.Children(p) {
		if fig.Holds(c) && fig.cast.isBone(c) {
			return false
		}
	}
	return true
}

// movesBelowRoot reports whether p or an ancestor within the figure below its root
// moves: otherwise its path is the root's.
func (fig *Anatomy) movesBelowRoot(p scene.PartID) bool {
	for ; p != scene.NoPart && p != fig.Root; p = fig.cast.Scene.Parts[p].Parent {
		if fig.cast.Moves(p) {
			return true
		}
	}
	return false
}

// namedPart is p, or its parent for a BVH end site, whose own name says nothing.
func (fig *Anatomy) namedPart(p scene.PartID) scene.PartID {
	if fig.cast.Scene.Parts[p].Kind == scene.Tip && fig.cast.Scene.Parts[p].Parent != scene.NoPart {
		return fig.cast.Scene.Parts[p].Parent
	}
	return p
}

// isBone reports whether a part counts as a bone of its figure: a node or
// joint, or geometry that has a transform of its own.
func (c *Cast) isBone(p scene.PartID) bool {
	k := c.Scene.Parts[p].Kind
	return k <= scene.Tip || (k == scene.Mesh && len(c.Scene.Parts[p].Ops) > 0)
}

// BoneLength returns how far the far end of a part is from its pivot in the
// first frame, in figure sizes: the farthest tracked point or bone that hangs
// directly on it.
func (fig *Anatomy) BoneLength(p scene.PartID) float64 {
	s := fig.cast
	m := s.WorldAt(p, s.First)
	o := m.Origin()
	far := 0.0
	for _, c := range s.Children(p) {
		if fig.Holds(c) && s.isBone(c) {
			far = max(far, vec.Distance(s.WorldPosition(c, s.First), o))
		}
	}
	for _, pt := range fig.Points {
		if pt.Part == p {
			far = max(far, vec.Distance(m.Point(pt.Offset), o))
		}
	}
	return far / fig.Size
}

// PointOn returns the index of the figure's point that a part carries: its own,
// or one at the end of something stiff that hangs on it; -1 when it carries
// none.
func (fig *Anatomy) PointOn(p scene.PartID) int {
	if i := slices.IndexFunc(fig.Points, func(q Point) bool { return q.Part == p }); i >= 0 {
		return i
	}
	s := fig.cast
	return slices.IndexFunc(fig.Points, func(q Point) bool {
		if !s.IsAncestor(p, q.Part) {
			return false
		}
		for at := q.Part; at != p; at = s.Scene.Parts[at].Parent {
			if s.Moves(at) {
				return false
			}
		}
		return true
	})
}
