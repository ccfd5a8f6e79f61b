package collada

import (
	"curvelint/parse/scene"
)

// figures marks joints and the roots of figures: the skeletons of skins, and
// otherwise every topmost joint that has joints below it.
func (b *builder) figures() {
	b.markRigs(b.rigs())
	above := make([]bool, len(b.s.Parts)) // a joint or the root of a skeleton stands above
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
		if p.Kind != scene.Joint {
			continue
		}
		p.Figure = p.Figure || hasJoint[i] && !above[i]
		p.Rest, p.HasRest = local(p.Ops), true
	}
}

// rig is the skeleton of one skin.
type rig struct {
	starts []scene.PartID // where it starts, as the instance of the skin says
	joints map[scene.PartID]bool
	common scene.PartID // what holds all starts, or NoPart
}

// rigs marks the joints of the skins of all nodes and returns their skeletons.
func (b *builder) rigs() (rigs []rig) {
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
		r := rig{joints: make(map[scene.PartID]bool)}
		joints := b.jointsOf(c, skin)
		for _, j := range joints {
			for _, part := range j.parts {
				r.joints[part] = true
				if b.s.Parts[part].Kind == scene.Node {
					b.s.Parts[part].Kind = scene.Joint
				}
			}
		}
		b.start(&r, b.rootsOf(skin, joints))
		rigs = append(rigs, r)
	}
	return rigs
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

// start notes where a skeleton starts: at the parts of some nodes. When each is
// there once, what holds them all can be the root.
func (b *builder) start(r *rig, roots []*node) {
	single := true
	r.common = scene.NoPart
	for _, n := range roots {
		single = single && len(n.parts) == 1
		r.starts = append(r.starts, n.parts...)
	}
	if !single || len(r.starts) == 0 {
		return
	}
	r.common = r.starts[0]
	for _, id := range r.starts[1:] {
		if r.common != scene.NoPart {
			r.common = b.commonAbove(r.common, id)
		}
	}
}

// maxRigs is up to how many skeletons are compared with each other.
const maxRigs = 1000

// markRigs marks the roots of the skeletons. One that lies inside another and
// starts at one of its joints, as a hat's does, is the same body.
func (b *builder) markRigs(rigs []rig) {
	rootOf := make(map[scene.PartID][]int) // rigs by their roots
	for i := range rigs {
		r := &rigs[i]
		if r.common != scene.NoPart && !b.holdsOther(rigs, i) {
			r.starts = []scene.PartID{r.common}
		}
		for _, id := range r.starts {
			rootOf[id] = append(rootOf[id], i)
		}
	}
	for i := range rigs {
		for _, id := range rigs[i].starts {
			if !b.insideRig(rigs, rootOf, i, id) {
				b.figureAt(id)
			}
		}
	}
}

// holdsOther reports whether what holds all starts of a skeleton holds another
// body as well: then it is the stage.
func (b *builder) holdsOther(rigs []rig, i int) bool {
	r := &rigs[i]
	if len(rigs) > maxRigs || len(r.starts) == 1 {
		return false
	}
	for k := range rigs {
		for _, id := range rigs[k].starts[:min(1, len(rigs[k].starts))] {
			if k != i && !r.joints[id] && id != r.common && b.commonAbove(id, r.common) == r.common {
				return true
			}
		}
	}
	return false
}

// insideRig reports whether a start of skeleton i lies below another start of
// its own, or is a joint below a root of another skeleton.
func (b *builder) insideRig(rigs []rig, rootOf map[scene.PartID][]int, i int, id scene.PartID) bool {
	for up := b.s.Parts[id].Parent; up != scene.NoPart; up = b.s.Parts[up].Parent {
		for _, k := range rootOf[up][:min(maxRigs, len(rootOf[up]))] {
			if k == i || rigs[k].joints[id] {
				return true
			}
		}
	}
	return false
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
