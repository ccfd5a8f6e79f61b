package collada

import (
	"curvelint/parse/scene"
)

// figures marks joints and the roots of figures: the skeletons that instances
// of skins name, and otherwise every topmost joint that has joints below it.
func (b *builder) figures() {
	b.skinned()
	above := make([]bool, len(b.s.Parts)) // a figure or joint stands above
	hasJoint := make([]bool, len(b.s.Parts))
	for i := len(b.s.Parts) - 1; i >= 0; i-- {
		p := &b.s.Parts[i]
		if p.Parent != scene.NoPart {
			hasJoint[p.Parent] = hasJoint[p.Parent] || hasJoint[i] || p.Kind == scene.Joint
		}
	}
	for i := range b.s.Parts {
		p := &b.s.Parts[i]
		if p.Parent != scene.NoPart {
			up := &b.s.Parts[p.Parent]
			above[i] = above[p.Parent] || up.Figure || up.Kind == scene.Joint
		}
		switch {
		case above[i]:
			p.Figure = false // one figure inside another is the same body
		case p.Kind == scene.Joint && hasJoint[i]:
			p.Figure = true
		}
		if p.Kind == scene.Joint {
			p.Rest, p.HasRest = local(p.Ops), true
		}
	}
}

// skinned marks the skeletons and joints of the skins of all nodes.
func (b *builder) skinned() {
	type key struct{ controller, skeleton string }
	done := make(map[key]bool)
	for _, skin := range b.skins {
		k := key{controller: skin.controller.url}
		if len(skin.skeletons) > 0 {
			k.skeleton = skin.skeletons[0].url
		}
		c, ok := find(b.parser, b.controllers, skin.controller)
		if !ok || done[k] {
			continue
		}
		done[k] = true
		b.load(c)
		joints := b.jointsOf(c, skin)
		for _, j := range joints {
			for _, part := range j.parts {
				if b.s.Parts[part].Kind == scene.Node {
					b.s.Parts[part].Kind = scene.Joint
				}
			}
		}
		b.markRoot(b.rootsOf(skin, joints))
	}
}

// jointsOf returns the nodes that a skin calls its joints, by sid below the
// skeletons or by id.
func (b *builder) jointsOf(c *controller, skin skinRef) []*node {
	var joints []*node
	for _, name := range c.jointNames {
		var found *node
		for _, r := range skin.skeletons {
			if n, ok := find(b.parser, b.nodes, r); ok && found == nil {
				found = b.below(n).nodes[name]
			}
		}
		if found == nil {
			found = b.nodes[name]
		}
		if found != nil {
			joints = append(joints, found)
		}
	}
	return joints
}

// rootsOf returns the nodes at which the skeleton of a skin starts: those that
// the instance names, else the joints.
func (b *builder) rootsOf(skin skinRef, joints []*node) []*node {
	var roots []*node
	for _, r := range skin.skeletons {
		if n, ok := find(b.parser, b.nodes, r); ok {
			roots = append(roots, n)
		} else if r.url != "" {
			b.syntax(r.span, "no node has the id %s; the skeleton of this skin is not known", quote(r.url))
		}
	}
	if len(roots) == 0 {
		return joints
	}
	return roots
}

// markRoot makes the part that holds all roots of a skeleton the root of a
// figure, or each root when nothing holds them all.
func (b *builder) markRoot(roots []*node) {
	common, single := scene.NoPart, true
	for _, n := range roots {
		single = single && len(n.parts) == 1
		if len(n.parts) == 0 {
			continue
		}
		if common == scene.NoPart {
			common = n.parts[0]
		} else if common = b.commonAbove(common, n.parts[0]); common == scene.NoPart {
			break
		}
	}
	if common != scene.NoPart && single {
		b.figureAt(common)
		return
	}
	for _, n := range roots {
		for _, id := range n.parts {
			b.figureAt(id)
		}
	}
}

func (b *builder) figureAt(id scene.PartID) {
	part := &b.s.Parts[id]
	part.Figure = true
	if part.Kind == scene.Node {
		part.Kind = scene.SkeletonRoot
	}
}

// commonAbove returns the lowest part that is both or above both, or NoPart.
func (b *builder) commonAbove(x, y scene.PartID) scene.PartID {
	for x != y {
		// A parent has a smaller id than its children.
		if x > y {
			x = b.s.Parts[x].Parent
		} else {
			y = b.s.Parts[y].Parent
		}
	}
	return x
}
