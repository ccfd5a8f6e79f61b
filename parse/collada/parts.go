package collada

import (
	"curvelint/parse/scene"
)

// builder makes the scene from what the document says.
type builder struct {
	*parser
	s     *scene.Scene
	paths *scene.Paths
	// budget is how many more parts instances may make. Instances of nodes
	// that hold instances multiply; a file of a few lines could ask for more
	// parts than there is memory.
	budget   int
	maxDepth int
	full     bool
	skins    []skinRef              // of nodes that were made into parts
	morphs   map[string]*controller // by what a target may call their weights
	sids     map[*node]*sids
	sidWork  int
	weights  map[*controller][]weightSet
	lenses   map[*camera][]int // indices into Scene.Cameras
	names    map[channelName]int
	// channelBudget bounds channels as budget bounds parts.
	channelBudget  int
	interpolations map[*array]*track     // by what holds their names
	tracks         map[samplerKey]*track // by what their samplers name
	// numberBudget is how many more numbers curves may copy out of arrays,
	// which sources may share.
	numberBudget int
	keyed        map[channelKey]bool
	ascended     []float64 // times that were last found to ascend
}

// weightSet is one instance of a morph: its weights are the parts first,
// first+1, ...
type weightSet struct {
	first scene.PartID
	n     int
}

func newBuilder(p *parser, s *scene.Scene) *builder {
	b := &builder{
		parser: p, s: s, paths: scene.NewPaths(len(p.src)), budget: 1<<16 + len(p.src)/16, maxDepth: p.o.MaxDepth,
		sids: make(map[*node]*sids), weights: make(map[*controller][]weightSet), lenses: make(map[*camera][]int),
		interpolations: make(map[*array]*track), tracks: make(map[samplerKey]*track), numberBudget: 1<<20 + 4*len(p.src),
		names: make(map[channelName]int), keyed: make(map[channelKey]bool),
	}
	if b.maxDepth <= 0 {
		b.maxDepth = 256
	}
	return b
}

// parts makes the nodes of the visual scene into parts.
func (b *builder) parts() {
	root := b.firstScene
	if b.sceneRef.url != "" {
		if n, ok := find(b.parser, b.scenes, b.sceneRef); ok {
			root = n
		} else {
			b.syntax(b.sceneRef.span, "no visual scene has the id %s; the first one is shown", quote(b.sceneRef.url))
		}
	}
	if root == nil {
		b.nothing("the document has no visual scene")
		return
	}
	for _, c := range root.children {
		b.child(c, scene.NoPart, 0)
	}
	if len(b.s.Parts) == 0 {
		b.nothing("the visual scene holds no nodes")
	}
	b.figures()
}

// nothing says why there is nothing to study, unless that follows from what is
// wrong.
func (b *builder) nothing(why string) {
	if len(b.problems.List()) == 0 {
		b.problems.Add(scene.Unsupported, span(0, 0), "%s; there is nothing to study", why)
	}
}

// child adds a child of a node, or the node that it is an instance of.
func (b *builder) child(c child, parent scene.PartID, depth int) {
	if c.node != nil {
		b.node(c.node, parent, depth)
		return
	}
	n, ok := find(b.parser, b.nodes, c.instance)
	switch {
	case !ok:
		if c.instance.url == "" || c.instance.url[0] == '#' {
			b.syntax(c.instance.span, "no node has the id %s; its instance is left out", quote(c.instance.url))
		}
	case n.active:
		b.problems.Once(scene.Syntax, c.instance.span, "cycle "+n.id, "the node %s holds an instance of itself; it is left out", quote(n.id))
	default:
		b.node(n, parent, depth)
	}
}

// node adds a node with everything below it.
func (b *builder) node(n *node, parent scene.PartID, depth int) {
	if depth >= b.maxDepth {
		b.problems.Once(scene.Unsupported, n.def, "depth", "this node and others lie more than %d deep, counting instances; they are left out", b.maxDepth)
		return
	}
	if b.full {
		return
	}
	id, ok := b.add(parent, n.name, scene.Part{
		Kind: n.kind(), Def: n.def, NameSpan: n.nameSpan, Body: n.body,
	}, n.def)
	if !ok {
		return
	}
	part := &b.s.Parts[id]
	part.Ops = make([]scene.Op, len(n.ops))
	for i, op := range n.ops {
		part.Ops[i] = scene.Op{Kind: op.kind, Name: op.sid, Value: append([]float64(nil), op.value...), Span: op.span}
		if op.sid == "" {
			part.Ops[i].Name = op.kindName()
		}
	}
	n.parts = append(n.parts, id)
	b.attached(n, id)
	n.active = true
	for _, c := range n.children {
		b.child(c, id, depth+1)
	}
	n.active = false
}

// add appends a part.
func (b *builder) add(parent scene.PartID, name string, part scene.Part, at scene.Span) (scene.PartID, bool) {
	up := ""
	if parent != scene.NoPart {
		up = b.s.Parts[parent].Path
	}
	b.budget--
	path, ok := b.paths.Add(up, name)
	if !ok || b.budget < 0 {
		b.full = true
		b.problems.Once(scene.Unsupported, at, "full", "instances multiply to more parts than a document of this size is given (%d); the parts from here on are left out", len(b.s.Parts))
		return scene.NoPart, false
	}
	part.ID, part.Parent, part.Name, part.Path = scene.PartID(len(b.s.Parts)), parent, name, path
	b.s.Parts = append(b.s.Parts, part)
	return part.ID, true
}

// kind says what a node is.
func (n *node) kind() scene.PartKind {
	switch {
	case n.joint:
		return scene.Joint
	case len(n.cameras) > 0:
		return scene.CameraPart
	case n.light && len(n.children) == 0:
		return scene.LightPart
	case n.geometry && len(n.children) == 0:
		return scene.Mesh
	}
	return scene.Node
}

// kindName is the name of a transform element.
func (t transform) kindName() string {
	for name, kind := range transformKinds {
		if kind == t.kind {
			return name
		}
	}
	return ""
}

// attached adds the cameras and shape weights of a node.
func (b *builder) attached(n *node, id scene.PartID) {
	for _, r := range n.cameras {
		c, ok := find(b.parser, b.cameras, r)
		if !ok {
			if r.url == "" || r.url[0] == '#' {
				b.syntax(r.span, "no camera has the id %s", quote(r.url))
			}
			continue
		}
		b.lenses[c] = append(b.lenses[c], len(b.s.Cameras))
		b.s.Cameras = append(b.s.Cameras, c.sceneCamera(id))
	}
	if len(n.parts) == 1 {
		b.skins = append(b.skins, n.skins...)
	}
	for _, skin := range n.skins {
		c, ok := find(b.parser, b.controllers, skin.controller)
		if !ok {
			if skin.controller.url == "" || skin.controller.url[0] == '#' {
				b.syntax(skin.controller.span, "no controller has the id %s", quote(skin.controller.url))
			}
			continue
		}
		if morph := b.morphOf(c); morph != nil {
			b.shapeWeights(morph, id, skin.controller.span)
		}
	}
}

// shapeWeights adds a part for each target of a morph.
func (b *builder) shapeWeights(morph *controller, id scene.PartID, at scene.Span) {
	b.load(morph)
	set := weightSet{first: scene.PartID(len(b.s.Parts))}
	for _, name := range morph.targetNames {
		if _, ok := b.add(id, name, scene.Part{Kind: scene.Weight, Def: at, NameSpan: at, Body: at}, at); !ok {
			break
		}
		set.n++
	}
	b.weights[morph] = append(b.weights[morph], set)
}

// allow hangs the allowances found in comments on their parts.
func (b *builder) allow() {
	for _, a := range b.allows {
		switch {
		case a.node != nil && len(a.node.parts) > 0:
			a.Part = a.node.parts[0]
		case a.animation != nil && a.animation.first != nil && len(a.animation.first.parts) > 0:
			a.Part = a.animation.first.parts[0]
		default:
			b.syntax(a.Span, "this allowance stands in no part; write it inside the node that it is for")
			continue
		}
		b.s.Allows = append(b.s.Allows, a.Allow)
	}
}
