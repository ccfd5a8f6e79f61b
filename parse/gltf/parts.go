package gltf

import (
	"math"
	"strconv"

	"curvelint/parse/scene"
)

// parts makes the nodes of the scene into parts.
func (p *parser) parts() {
	p.paths = scene.NewPaths(len(p.src))
	p.budget = 1<<20 + valuesPerByte*len(p.src)
	depth := p.o.MaxDepth
	if depth <= 0 {
		depth = 256
	}
	roots, places := p.roots()
	seen := make([]bool, len(p.nodes))
	for i, n := range roots {
		p.tree(n, places[i], scene.NoPart, depth, seen)
	}
	if len(p.s.Parts) == 0 && len(p.problems.List()) == 0 {
		p.problems.Add(scene.Unsupported, span(p.r.base, min(p.r.base+1, len(p.src))), "the scene holds no nodes; there is nothing to study")
	}
	p.figures()
}

// roots returns the top nodes of the scene to show: the one that the file
// names, else the first; without scenes, all nodes that are no one's child.
func (p *parser) roots() (list []int, places []scene.Span) {
	if p.scene >= 0 && p.scene < len(p.scenes) {
		return p.scenes[p.scene].nodes, p.scenes[p.scene].places
	}
	if p.scene >= 0 {
		p.missing(p.sceneSpan, "scene", p.scene, len(p.scenes))
	}
	if len(p.scenes) > 0 {
		return p.scenes[0].nodes, p.scenes[0].places
	}
	child := make([]bool, len(p.nodes))
	for i := range p.nodes {
		for _, c := range p.nodes[i].children {
			if c < len(child) {
				child[c] = true
			}
		}
	}
	for i := range p.nodes {
		if !child[i] {
			list, places = append(list, i), append(places, p.nodes[i].span)
		}
	}
	return list, places
}

// tree adds a node with everything below it. at is where it is named.
func (p *parser) tree(i int, at scene.Span, parent scene.PartID, depth int, seen []bool) {
	switch {
	case i >= len(p.nodes):
		p.missing(at, "node", i, len(p.nodes))
		return
	case seen[i]:
		p.syntax(at, "node %d is in the scene already: nodes form a tree, in which each has one parent and none lies below itself", i)
		return
	case depth == 0:
		p.problems.Once(scene.Unsupported, at, "depth", "nodes are nested deeper than the limit; those from here down are left out")
		return
	}
	seen[i] = true
	n := &p.nodes[i]
	name := n.name
	if name == "" {
		name = "node" + strconv.Itoa(i)
	}
	if !p.add(parent, name, n) {
		return
	}
	p.weights(n, i)
	for c, child := range n.children {
		p.tree(child, n.childSpans[c], n.part, depth-1, seen)
	}
}

// add appends the part of a node.
func (p *parser) add(parent scene.PartID, name string, n *node) bool {
	path, ok := p.path(parent, name, n.span)
	if !ok {
		return false
	}
	n.part = scene.PartID(len(p.s.Parts))
	part := scene.Part{
		ID: n.part, Parent: parent, Name: name, Path: path, Kind: p.kind(n),
		Rest: p.rest(n), HasRest: true, Ops: p.ops(n),
		Def: n.span, NameSpan: n.nameSpan, Body: n.span,
	}
	p.s.Parts = append(p.s.Parts, part)
	if n.camera >= len(p.cameras) {
		p.missing(n.cameraSpan, "camera", n.camera, len(p.cameras))
	} else if n.camera >= 0 {
		c := &p.cameras[n.camera]
		c.used = append(c.used, len(p.s.Cameras))
		p.s.Cameras = append(p.s.Cameras, c.sceneCamera(n.part))
	}
	return true
}

func (p *parser) path(parent scene.PartID, name string, at scene.Span) (string, bool) {
	up := ""
	if parent != scene.NoPart {
		up = p.s.Parts[parent].Path
	}
	path, ok := p.paths.Add(up, name)
	if !ok {
		p.problems.Once(scene.Unsupported, at, "paths", "the names of nested nodes are too long in all; the nodes from here on are left out")
	}
	return path, ok
}

// kind says what a node is. Joints are marked later.
func (p *parser) kind(n *node) scene.PartKind {
	switch {
	case n.camera >= 0:
		return scene.CameraPart
	case n.light && len(n.children) == 0:
		return scene.LightPart
	case n.mesh >= 0 && len(n.children) == 0:
		return scene.Mesh
	}
	return scene.Node
}

// ops returns the transform stack of a node: translation, rotation, scale, or
// a matrix.
func (p *parser) ops(n *node) []scene.Op {
	if n.matrix != nil && n.translation == nil && n.rotation == nil && n.scale == nil {
		return []scene.Op{{Kind: scene.Matrix, Name: "matrix", Value: rowMajor(n.matrix), Span: n.matrixSpan}}
	}
	if n.matrix != nil {
		p.syntax(n.matrixSpan, "a node has either a matrix or translation, rotation and scale; the matrix is left out")
	}
	or := func(v []float64, other ...float64) []float64 {
		if v != nil {
			return v
		}
		return other
	}
	q := or(n.rotation, 0, 0, 0, 1)
	return []scene.Op{
		{Kind: scene.Translate, Name: "translation", Value: or(n.translation, 0, 0, 0), Span: n.at(n.translationSpan)},
		{Kind: scene.Orient, Name: "rotation", Value: []float64{q[3], q[0], q[1], q[2]}, Span: n.at(n.rotationSpan)},
		{Kind: scene.Scale, Name: "scale", Value: or(n.scale, 1, 1, 1), Span: n.at(n.scaleSpan)},
	}
}

// at returns where a property of the node is written, or its name.
func (n *node) at(property scene.Span) scene.Span {
	if property.Empty() {
		return n.nameSpan
	}
	return property
}

// rowMajor turns a matrix written column by column.
func rowMajor(m []float64) []float64 {
	out := make([]float64, 16)
	for r := range 4 {
		for c := range 4 {
			out[4*r+c] = m[4*c+r]
		}
	}
	return out
}

// rest returns the local transform of a node: T * R * S or its matrix.
func (p *parser) rest(n *node) scene.Mat4 {
	m := scene.Identity
	if n.matrix != nil {
		copy(m[:], rowMajor(n.matrix))
		return m
	}
	if q := n.rotation; q != nil {
		rotate(&m, q[3], q[0], q[1], q[2])
	}
	for i, s := range n.scale {
		m[i], m[4+i], m[8+i] = m[i]*s, m[4+i]*s, m[8+i]*s
	}
	for i, t := range n.translation {
		m[4*i+3] = t
	}
	return m
}

// rotate makes m the rotation of the quaternion w x y z, normalised.
func rotate(m *scene.Mat4, w, x, y, z float64) {
	norm := math.Sqrt(w*w + x*x + y*y + z*z)
	if norm == 0 || norm-norm != 0 {
		return
	}
	w, x, y, z = w/norm, x/norm, y/norm, z/norm
	m[0], m[1], m[2] = 1-2*(y*y+z*z), 2*(x*y-w*z), 2*(x*z+w*y)
	m[4], m[5], m[6] = 2*(x*y+w*z), 1-2*(x*x+z*z), 2*(y*z-w*x)
	m[8], m[9], m[10] = 2*(x*z-w*y), 2*(y*z+w*x), 1-2*(x*x+y*y)
}

// maxWeights bounds the shape weights of all nodes in proportion to the file:
// many nodes may show one mesh with many targets.
func (p *parser) maxWeights() int { return 1<<14 + len(p.src)/16 }

// weights adds a part for each morph target of a node's mesh.
func (p *parser) weights(n *node, i int) {
	n.firstWeight = scene.PartID(len(p.s.Parts))
	if n.mesh < 0 {
		return
	}
	if n.mesh >= len(p.meshes) {
		p.missing(n.meshSpan, "mesh", n.mesh, len(p.meshes))
		return
	}
	m := &p.meshes[n.mesh]
	count := max(m.targets, m.weights)
	for j := range count {
		if len(p.s.Parts) > len(p.nodes)+p.maxWeights() {
			p.problems.Once(scene.Unsupported, m.span, "weights", "the nodes show more morph targets than a file of this size is given; the weights from here on are left out")
			return
		}
		name, at := "weight"+strconv.Itoa(j), n.nameSpan
		if j < len(m.names) && m.names[j] != "" {
			name, at = m.names[j], m.places[j]
		}
		path, ok := p.path(n.part, name, at)
		if !ok {
			return
		}
		p.s.Parts = append(p.s.Parts, scene.Part{
			ID: scene.PartID(len(p.s.Parts)), Parent: n.part, Name: name, Path: path, Kind: scene.Weight,
			Rest: scene.Identity, Def: at, NameSpan: at, Body: at,
		})
		n.weights++
	}
}
