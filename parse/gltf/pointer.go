package gltf

import (
	"slices"
	"strconv"
	"strings"

	"curvelint/parse/scene"
)

// pointerTarget finds what a channel with KHR_animation_pointer drives: a
// property of a node, all or one of its weights, or a number of a lens.
func (p *parser) pointerTarget(d *drive) bool {
	c := d.c
	path := strings.Split(strings.TrimPrefix(c.pointer, "/"), "/")
	i := -1
	if len(path) >= 3 {
		if n, err := strconv.ParseUint(path[1], 10, 31); err == nil {
			i = int(n)
		}
	}
	switch {
	case i >= 0 && path[0] == "nodes":
		return p.pointerNode(d, i, path[2:])
	case i >= 0 && path[0] == "meshes" && path[2] == "weights":
		return p.pointerMesh(d, i, path[2:])
	case i >= 0 && path[0] == "cameras" && len(path) == 4:
		return p.pointerLens(d, i, path[3])
	}
	return p.unknownPointer(d)
}

func (p *parser) unknownPointer(d *drive) bool {
	c := d.c
	at := c.pointerSpan
	if at.Empty() {
		at = c.span
	}
	p.problems.Once(scene.Unsupported, at, "pointer", "%s moves no node, weight or lens that is known here; this channel and others like it are left out", quote(c.pointer))
	return false
}

func (p *parser) pointerNode(d *drive, i int, property []string) bool {
	if !p.targetNode(d, i, d.c.pointerSpan) {
		return false
	}
	switch property[0] {
	case "translation":
		d.op = 0
	case "rotation":
		d.op = 1
	case "scale":
		d.op = 2
	case "weights":
		d.op = weightsOp
		if len(property) == 2 {
			n, err := strconv.ParseUint(property[1], 10, 31)
			if err != nil || int(n) >= d.node.weights {
				p.syntax(d.c.pointerSpan, "the node has no weight %s; this channel is left out", quote(property[1]))
				return false
			}
			d.weight = int(n)
		}
	default:
		return p.unknownPointer(d)
	}
	return p.animatable(d)
}

// pointerMesh drives the weights of all nodes with a mesh.
func (p *parser) pointerMesh(d *drive, mesh int, property []string) bool {
	if p.byMesh == nil {
		p.byMesh = make(map[int][]int)
		for i := range p.nodes {
			if n := &p.nodes[i]; n.part != scene.NoPart {
				p.byMesh[n.mesh] = append(p.byMesh[n.mesh], i)
			}
		}
	}
	nodes := p.byMesh[mesh]
	if len(nodes) == 0 {
		return p.unknownPointer(d)
	}
	d.others = nodes[1:]
	return p.pointerNode(d, nodes[0], property)
}

func (p *parser) pointerLens(d *drive, i int, property string) bool {
	if i >= len(p.cameras) {
		p.missing(d.c.pointerSpan, "camera", i, len(p.cameras))
		return false
	}
	d.op, d.camera, d.lens = lensOp, &p.cameras[i], property
	switch property {
	case "yfov", "xmag", "ymag":
		return true
	case "znear", "zfar":
		return false // moves nothing in the picture
	}
	return p.unknownPointer(d)
}

// buildLens makes the channels of an animated lens, one for each node with the
// camera. A field of view becomes a focal length, key by key; handles follow
// the slope of that function.
func (p *parser) buildLens(d *drive) {
	for _, i := range d.camera.used {
		cam := &p.s.Cameras[i]
		slot := &cam.FocalLengthChannel
		f, slope := focalLength, focalSlope
		if d.lens != "yfov" {
			f, slope = func(v float64) float64 { return 2 * v }, func(float64) float64 { return 2 }
			slot = &cam.VerticalChannel
			if d.lens == "xmag" {
				slot = &cam.HorizontalChannel
			}
		}
		if !p.claim(d, cam.Part, d.lens) {
			return
		}
		before := len(p.s.Channels)
		p.addChannel(d, cam.Part, scene.NoOp, 0, d.lens, scene.Number, 0)
		if len(p.s.Channels) == before {
			return
		}
		*slot = scene.ChannelID(before)
		remap(&p.s.Channels[before].Curve, f, slope)
	}
}

// remap replaces each value v of a curve by f(v). Others may share its columns.
func remap(c *scene.Curve, f, slope func(float64) float64) {
	before := c.Doubles()
	values := make([]float64, len(before))
	if h := c.Handles; h != nil {
		c.Handles = &scene.Handles{InV: slices.Clone(h.InV), OutV: slices.Clone(h.OutV)}
	}
	for i, v := range before {
		values[i] = f(v)
		if c.Handles != nil {
			c.Handles.InV[i] *= slope(v)
			c.Handles.OutV[i] *= slope(v)
		}
	}
	c.Values, c.Single, c.Step = values, nil, 0
}
