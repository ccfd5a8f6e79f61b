package gltf

import (
	"bytes"
	"strings"

	"curvelint/parse/scene"
)

// gScene is a scene of the file.
type gScene struct {
	nodes  []int
	places []scene.Span
}

// node is a node: a transform in the hierarchy.
type node struct {
	name            string
	nameSpan        scene.Span
	span            scene.Span
	children        []int
	childSpans      []scene.Span
	mesh, skin      int
	meshSpan        scene.Span
	skinSpan        scene.Span
	camera          int
	cameraSpan      scene.Span
	light           bool
	matrix          static
	translation     static
	rotation        static
	scale           static
	matrixSpan      scene.Span
	translationSpan scene.Span
	rotationSpan    scene.Span
	scaleSpan       scene.Span
	part            scene.PartID // once it is one, else NoPart
	firstWeight     scene.PartID
	weights         int
}

// static are the numbers of a property that does not move; nil when the file
// does not say them.
type static []float64

// mesh is a mesh, of which only the morph targets matter.
type mesh struct {
	span    scene.Span
	targets int // morph targets of its primitives
	weights int // default weights
	names   []string
	places  []scene.Span
}

// skin is a skin.
type skin struct {
	span         scene.Span
	joints       []int
	places       []scene.Span
	skeleton     int
	skeletonSpan scene.Span
}

// document reads the whole file.
func (p *parser) document() {
	p.scene = -1
	p.isObject = p.r.kind() == '{'
	p.r.object(p.topLevel)
	if p.r.failed {
		return
	}
	end := len(bytes.TrimRight(p.src, " \t\r\n"))
	if k := p.r.pos(); k < end {
		p.problems.Add(scene.Syntax, span(k, end), "expected the end of the file behind the JSON object")
	}
}

func (p *parser) topLevel(name string, at scene.Span) {
	r := p.r
	switch name {
	case "asset":
		p.asset()
	case "scene":
		if r.kind() == '"' && !strings.HasPrefix(p.version, "2") {
			p.oldShape = true
			r.skip()
			return
		}
		p.sceneSpan = p.at(func() { p.scene = r.index("the number of a scene") })
	case "scenes":
		p.list(func() { p.scenes = append(p.scenes, p.readScene()) })
	case "nodes":
		p.list(func() { p.nodes = append(p.nodes, p.node()) })
	case "meshes":
		p.list(func() { p.meshes = append(p.meshes, p.mesh()) })
	case "skins":
		p.list(func() { p.skins = append(p.skins, p.skin()) })
	case "cameras":
		p.list(func() { p.cameras = append(p.cameras, p.camera()) })
	case "animations":
		p.list(func() { p.animations = append(p.animations, p.animation()) })
	case "accessors":
		p.list(func() { p.accessors = append(p.accessors, p.accessor()) })
	case "bufferViews":
		p.list(func() { p.bufferViews = append(p.bufferViews, p.bufferView()) })
	case "buffers":
		p.list(func() { p.buffers = append(p.buffers, p.buffer()) })
	case "extensionsRequired":
		p.required()
	}
}

// list reads one of the arrays of the file. In glTF 1.0 they are objects.
func (p *parser) list(read func()) {
	if p.r.kind() == '{' && !strings.HasPrefix(p.version, "2") {
		p.oldShape = true
		p.r.skip()
		return
	}
	p.r.array(func(int) { read() })
}

func (p *parser) asset() {
	p.r.object(func(name string, at scene.Span) {
		switch name {
		case "version":
			p.versionSpan = p.at(p.readVersion)
		case "minVersion":
			p.minVersion = p.r.text()
		}
	})
}

// readVersion reads the version, which files of the first version have as a
// number.
func (p *parser) readVersion() {
	if p.r.kind() == '0' {
		start := p.r.start()
		if at := p.r.raw(); p.src[at.Start] == '1' {
			p.version = string(p.src[at.Start:at.End])
			return
		}
		p.syntax(span(start, max(start, p.r.pos())), "expected a string as version, such as \"2.0\", found a number")
		p.version = "2.0"
		return
	}
	p.version = p.r.text()
}

// harmless are the extensions that change nothing in the motion of nodes, by
// prefix.
var harmless = []string{
	"KHR_animation_pointer", "KHR_materials_", "KHR_texture_", "KHR_lights_", "KHR_mesh_", "KHR_draco_",
	"KHR_xmp", "KHR_node_", "EXT_texture_", "EXT_mesh_", "EXT_meshopt_", "EXT_lights_", "MSFT_texture_", "MSFT_packing_",
}

// required reports extensions that the file cannot do without and that are not
// known here.
func (p *parser) required() {
	p.r.array(func(int) {
		name, at := p.r.stringAt()
		for _, prefix := range harmless {
			if strings.HasPrefix(name, prefix) {
				return
			}
		}
		if name != "" {
			p.problems.Once(scene.Unsupported, at, "extension "+name, "the extension %s is not read; what it brings is left out", quote(name))
		}
	})
}

func (p *parser) readScene() (s gScene) {
	p.r.object(func(name string, at scene.Span) {
		switch name {
		case "name":
			p.r.text()
		case "nodes":
			s.nodes, s.places = p.r.indices("the number of a node")
		}
	})
	return s
}

// at calls read for the next value and returns where it stands.
func (p *parser) at(read func()) scene.Span {
	start := p.r.start()
	read()
	return span(start, max(start, p.r.pos()))
}

func (p *parser) node() node {
	n := node{mesh: -1, skin: -1, camera: -1, part: scene.NoPart}
	r := p.r
	n.span = r.object(func(name string, at scene.Span) {
		switch name {
		case "name":
			n.name, n.nameSpan = r.stringAt()
		case "children":
			n.children, n.childSpans = r.indices("the number of a node")
		case "mesh":
			n.meshSpan = p.at(func() { n.mesh = r.index("the number of a mesh") })
		case "skin":
			n.skinSpan = p.at(func() { n.skin = r.index("the number of a skin") })
		case "camera":
			n.cameraSpan = p.at(func() { n.camera = r.index("the number of a camera") })
		case "matrix":
			n.matrixSpan = p.at(func() { n.matrix = r.numbers(16) })
		case "translation":
			n.translationSpan = p.at(func() { n.translation = r.numbers(3) })
		case "rotation":
			n.rotationSpan = p.at(func() { n.rotation = r.numbers(4) })
		case "scale":
			n.scaleSpan = p.at(func() { n.scale = r.numbers(3) })
		case "extensions":
			r.object(func(name string, at scene.Span) {
				n.light = n.light || name == "KHR_lights_punctual"
			})
		}
	})
	if n.nameSpan.Empty() {
		n.nameSpan = span(int(n.span.Start), int(min(n.span.Start+1, n.span.End)))
	}
	return n
}

func (p *parser) mesh() (m mesh) {
	r := p.r
	m.span = r.object(func(name string, at scene.Span) {
		switch name {
		case "primitives":
			r.array(func(int) {
				r.object(func(name string, at scene.Span) {
					if name == "targets" {
						n := 0
						r.array(func(int) { n++ })
						m.targets = max(m.targets, n)
					}
				})
			})
		case "weights":
			m.weights = len(r.numbers(0))
		case "extras":
			if r.kind() == '{' { // extras may be anything
				r.object(func(name string, at scene.Span) {
					if name == "targetNames" && r.kind() == '[' {
						p.targetNames(&m)
					}
				})
			}
		}
	})
	return m
}

func (p *parser) targetNames(m *mesh) {
	p.r.array(func(int) {
		if p.r.kind() != '"' {
			p.r.skip()
			m.names, m.places = append(m.names, ""), append(m.places, scene.Span{})
			return
		}
		name, at := p.r.stringAt()
		m.names, m.places = append(m.names, name), append(m.places, at)
	})
}

func (p *parser) skin() skin {
	s := skin{skeleton: -1}
	s.span = p.r.object(func(name string, at scene.Span) {
		switch name {
		case "joints":
			s.joints, s.places = p.r.indices("the number of a node")
		case "skeleton":
			s.skeletonSpan = p.at(func() { s.skeleton = p.r.index("the number of a node") })
		}
	})
	return s
}
