package x3d

import (
	"strings"

	"curvelint/parse/scene"
)

// builder makes the parts and channels of a scene from a document's nodes.
type builder struct {
	doc    *document
	scene  *scene.Scene
	wiring *wiring
	drives map[target]drive
	timing *timing
	curves map[drive][]scene.Curve
	motion map[*node]*motion

	paths     *scene.Paths
	expanding map[*node]bool // the nodes around the present one
	depth     int
}

// frame is where the children of a node hang: the part, and how far its origin
// lies from that of the node's coordinates. Parts of joints have their origin
// at the joint's center, where it turns.
type frame struct {
	part  scene.PartID
	shift [3]float64
}

// expand makes the parts of a node and what it holds below a frame.
func (b *builder) expand(n *node, at frame) {
	def := n
	if n.use != "" {
		if def = n.target; def == nil || b.listed(n, at) {
			return
		}
	}
	if !def.kind.places() {
		b.other(def, at)
		return
	}
	if b.expanding[def] {
		b.doc.syntax(n.head, "%s holds itself by USE; the inner one is left out", def.label())
		return
	}
	if b.depth >= b.doc.maxDepth {
		b.doc.syntax(n.head, "nodes nest more than %d deep by USE; what is inside is not read", b.doc.maxDepth)
		return
	}
	b.expanding[def] = true
	b.depth++
	inner, ok := b.place(n, def, at)
	if ok {
		for _, child := range def.shown(b.wiring) {
			b.expand(child, inner)
		}
	}
	b.depth--
	delete(b.expanding, def)
}

// listed reports whether a USE only lists a node of the figure again, as the
// fields joints, segments and sites of a humanoid do.
func (b *builder) listed(n *node, at frame) bool {
	if at.part == scene.NoPart || b.scene.Parts[at.part].Kind != scene.SkeletonRoot {
		return false
	}
	k := n.target.kind
	return n.hung != "skeleton" && n.hung != "humanoidBody" && (k == joint || k == segment || k == site || k == viewpoint)
}

// other handles what is no place for others.
func (b *builder) other(n *node, at frame) {
	switch n.kind {
	case displacer:
		b.weight(n, at)
	case inline:
		b.doc.leaveOut(n.head, "Inline is not followed; what the other file holds is missing, so open that file by itself")
	}
}

// shown returns the children of a node that are to be seen.
func (n *node) shown(w *wiring) []*node {
	switch n.kind {
	case choice:
		if w.routed[n] {
			return n.children
		}
		which := int(w.doc.number(n, "whichChoice", -1))
		if which < 0 || which >= len(n.children) {
			return nil
		}
		return n.children[which : which+1]
	case levels:
		return n.children[:min(1, len(n.children))]
	}
	return n.children
}

// place makes the part of a node, if it is one of its own, and returns where
// its children hang.
func (b *builder) place(n, def *node, at frame) (frame, bool) {
	switch def.kind {
	case unknown, foreign:
		b.doc.leaveOut(def.head, b.doc.strange(def))
		if len(def.children) == 0 {
			return at, false
		}
		fallthrough
	case group, choice, levels:
		if def.def == "" {
			return at, true
		}
	}
	kind := scene.Node
	switch def.kind {
	case joint:
		kind = scene.Joint
	case humanoid:
		kind = scene.SkeletonRoot
	case viewpoint, orthoView:
		kind = scene.CameraPart
	case light:
		kind = scene.LightPart
	}
	id, ok := b.part(n, def, at.part, kind)
	if !ok {
		return at, false
	}
	inner := frame{part: id, shift: at.shift}
	s := stack{builder: b, node: def, part: id}
	switch def.kind {
	case transform, joint, humanoid, site:
		inner.shift = s.transform(at.shift)
	case viewpoint, orthoView:
		s.camera(at.shift)
		inner.shift = [3]float64{}
	case light:
		s.before(at.shift)
		s.vector(scene.Translate, "location", [3]float64{}, false)
		inner.shift = [3]float64{}
	}
	b.scene.Parts[id].Figure = def.kind == humanoid
	return inner, true
}

// strange says what a node means that the study cannot place.
func (d *document) strange(n *node) string {
	typ := printable(n.typ)
	switch {
	case n.kind == foreign:
		return typ + " is read as a plain group; how it places its children is left out"
	case d.protos[n.typ]:
		return "instances of the prototype " + typ + " are not read; what they hold and move is missing"
	}
	return typ + " is no node that X3D defines; nodes inside it are read as in a group"
}

// part adds a part; ok is false when there are too many.
func (b *builder) part(n, def *node, parent scene.PartID, kind scene.PartKind) (id scene.PartID, ok bool) {
	above := ""
	if parent != scene.NoPart {
		above = b.scene.Parts[parent].Path
	}
	b.doc.left--
	path, ok := b.paths.Add(above, b.doc.partName(def))
	if !ok || b.doc.left < 0 {
		b.doc.leaveOut(n.head, "USE multiplies the nodes too far; the rest is left out")
		return 0, false
	}
	id = scene.PartID(len(b.scene.Parts))
	b.scene.Parts = append(b.scene.Parts, scene.Part{
		ID: id, Parent: parent, Name: path[strings.LastIndexByte(path, '/')+1:], Path: path, Kind: kind,
		Def: n.head, NameSpan: n.name, Body: n.body,
	})
	return id, true
}

// partName names the part of a node: the name of a figure's part, the DEF
// name, a camera's description, or the node's type.
func (d *document) partName(n *node) string {
	switch n.kind {
	case joint, humanoid, segment, site, displacer:
		if s := d.text(n, "name"); s != "" {
			return s
		}
	case viewpoint, orthoView:
		if s := d.text(n, "description"); n.def == "" && s != "" {
			return s
		}
	}
	if n.def != "" {
		return n.def
	}
	return n.typ
}

// weight makes the part of a shape weight.
func (b *builder) weight(n *node, at frame) {
	id, ok := b.part(n, n, at.part, scene.Weight)
	if !ok {
		return
	}
	s := stack{builder: b, node: n, part: id}
	s.channels("weight", scene.NoOp, "weight", scene.Share)
}

// curvesOf returns the curves of a drive, made once.
func (b *builder) curvesOf(dr drive) []scene.Curve {
	curves, ok := b.curves[dr]
	if !ok {
		curves = b.timing.curves(played{b.motion[dr.interp], dr.clock})
		b.curves[dr] = curves
	}
	return curves
}

// channel adds a channel.
func (b *builder) channel(ch scene.Channel) scene.ChannelID {
	b.scene.Channels = append(b.scene.Channels, ch)
	return scene.ChannelID(len(b.scene.Channels) - 1)
}
