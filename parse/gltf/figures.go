package gltf

import (
	"curvelint/parse/scene"
)

// figures marks joints, and of each skin the root of its skeleton as the root
// of a figure.
func (p *parser) figures() {
	roots := make([]scene.PartID, len(p.skins))
	joints := make([]map[scene.PartID]bool, len(p.skins))
	for i := range p.skins {
		joints[i], roots[i] = p.joints(&p.skins[i])
	}
	for i := range p.skins {
		if given := p.skeleton(&p.skins[i]); given != scene.NoPart && !p.holdsOther(given, i, roots, joints) {
			roots[i] = given
		}
	}
	for i, root := range roots {
		if root == scene.NoPart || p.sameBody(root, i, roots, joints) {
			continue
		}
		part := &p.s.Parts[root]
		part.Figure = true
		if part.Kind == scene.Node {
			part.Kind = scene.SkeletonRoot
		}
	}
}

// joints marks the joints of a skin and returns them with the lowest part that
// holds them all.
func (p *parser) joints(s *skin) (set map[scene.PartID]bool, common scene.PartID) {
	set = make(map[scene.PartID]bool, len(s.joints))
	common = scene.NoPart
	for k, j := range s.joints {
		if j >= len(p.nodes) {
			p.missing(s.places[k], "node", j, len(p.nodes))
			continue
		}
		id := p.nodes[j].part
		if id == scene.NoPart {
			continue // not in the scene that is shown
		}
		if part := &p.s.Parts[id]; part.Kind == scene.Node || part.Kind == scene.Mesh {
			part.Kind = scene.Joint
		}
		if len(set) == 0 {
			common = id
		} else if common != scene.NoPart {
			common = p.commonAbove(common, id)
		}
		set[id] = true
	}
	return set, common
}

// skeleton returns the part that a skin names as the root of its skeleton.
func (p *parser) skeleton(s *skin) scene.PartID {
	if s.skeleton < 0 {
		return scene.NoPart
	}
	if s.skeleton >= len(p.nodes) {
		p.missing(s.skeletonSpan, "node", s.skeleton, len(p.nodes))
		return scene.NoPart
	}
	return p.nodes[s.skeleton].part
}

// maxSkins is up to how many skins are compared with each other.
const maxSkins = 1000

// holdsOther reports whether the skeleton of another body lies below a root:
// then the root is that of the stage, not of skin i.
func (p *parser) holdsOther(root scene.PartID, i int, roots []scene.PartID, joints []map[scene.PartID]bool) bool {
	if len(roots) > maxSkins {
		return false
	}
	for k, other := range roots {
		if k == i || other == scene.NoPart || roots[i] == scene.NoPart {
			continue
		}
		apart := p.commonAbove(other, roots[i])
		if apart != other && apart != roots[i] && p.commonAbove(root, other) == root && !joints[i][other] {
			return true
		}
	}
	return false
}

// sameBody reports whether the root of skin i is a joint inside the skeleton of
// another skin, as a hat's is.
func (p *parser) sameBody(root scene.PartID, i int, roots []scene.PartID, joints []map[scene.PartID]bool) bool {
	if len(roots) > maxSkins {
		return false
	}
	for k, other := range roots {
		if k != i && other != scene.NoPart && other != root && joints[k][root] && p.commonAbove(other, root) == other {
			return true
		}
	}
	return false
}

// commonAbove returns the lowest part that is both or above both, or NoPart.
func (p *parser) commonAbove(x, y scene.PartID) scene.PartID {
	for x != y {
		// A parent has a smaller id than its children.
		if x > y {
			x = p.s.Parts[x].Parent
		} else {
			y = p.s.Parts[y].Parent
		}
	}
	return x
}
