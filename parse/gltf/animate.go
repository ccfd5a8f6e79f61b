package gltf

import (
	"math"
	"slices"
	"strconv"

	"curvelint/parse/scene"
)

// channelKey is an op component or weight that is animated already.
type channelKey struct {
	part scene.PartID
	op   int
	lens string
}

// drive is what a channel drives, with its sampler read.
type drive struct {
	c      *channel
	s      *sampler
	block  scene.Span
	node   *node
	others []int // more nodes with the same mesh, whose weights go along
	op     int   // 0 translation, 1 rotation, 2 scale; weightsOp; lensOp
	weight int   // the one weight that is driven, -1 for all
	camera *camera
	lens   string

	shape  shape
	column int // of the timeline
	in     *output
	out    *output
	cubic  bool
}

// What else than an op of a node a channel drives.
const (
	weightsOp = -1 - iota
	lensOp
)

// animate makes the channels of the animation that is shown, decoding them with
// the given number of goroutines.
func (p *parser) animate(workers int) {
	p.clear()
	a := p.clip()
	if a == nil {
		return
	}
	var drives []*drive
	for i := range a.channels {
		if d := p.openChannel(a, &a.channels[i]); d != nil {
			drives = append(drives, d)
		}
	}
	p.run(workers)
	drives = slices.DeleteFunc(drives, func(d *drive) bool { return d.in.failed || d.out.failed })
	for _, d := range drives {
		d.column = p.column(d.s.input, d.in)
	}
	p.s.Rate, p.s.RateKnown = p.timeline.Rate(p.o.Rate)
	for _, d := range drives {
		p.build(d)
	}
	first, last := math.Inf(1), math.Inf(-1)
	for i := range p.s.Channels {
		if times := p.s.Channels[i].Curve.Times; len(times) > 0 {
			first, last = min(first, times[0]), max(last, times[len(times)-1])
		}
	}
	if first <= last {
		p.s.First, p.s.Last = first, last
	}
}

// clear makes ready for reading channels.
func (p *parser) clear() {
	p.columns = make(map[columnKey]*output)
	p.inputs = make(map[int]int)
	p.keyed = make(map[channelKey]bool)
	p.curves = make(map[curveKey]scene.Curve)
}

// openChannel resolves a channel and asks for its accessors; nil, with a problem, when it
// drives nothing.
func (p *parser) openChannel(a *animation, c *channel) *drive {
	if c.sampler < 0 || c.sampler >= len(a.samplers) {
		if c.sampler >= 0 {
			p.missing(c.samplerSpan, "sampler", c.sampler, len(a.samplers))
		} else if !p.r.failed {
			p.syntax(c.span, "expected the number of a sampler in this channel; it is left out")
		}
		return nil
	}
	d := &drive{c: c, s: &a.samplers[c.sampler], block: a.span, weight: -1}
	if !p.target(d) {
		return nil
	}
	sh, ok := d.shapeOf(p)
	if !ok {
		return nil
	}
	d.shape = sh
	if d.s.input < 0 && !p.r.failed {
		p.syntax(d.s.span, "expected the number of an accessor as input of this sampler; its channels are left out")
	}
	d.in = p.read(d.s.input, d.s.inputSpan, shape{width: 1})
	if d.in == nil {
		return nil
	}
	if d.out = p.read(d.s.output, d.s.outputSpan, sh); d.out == nil {
		return nil
	}
	return d
}

// target finds what a channel drives.
func (p *parser) target(d *drive) bool {
	c := d.c
	if c.path == "pointer" {
		return p.pointerTarget(d)
	}
	if c.node < 0 {
		return false // nothing to animate, says the specification
	}
	if !p.targetNode(d, c.node, c.nodeSpan) {
		return false
	}
	switch c.path {
	case "translation":
		d.op = 0
	case "rotation":
		d.op = 1
	case "scale":
		d.op = 2
	case "weights":
		d.op = weightsOp
	default:
		p.syntax(c.pathSpan, "expected translation, rotation, scale or weights, found %s; this channel is left out", quote(c.path))
		return false
	}
	return p.animatable(d)
}

func (p *parser) targetNode(d *drive, i int, at scene.Span) bool {
	if i >= len(p.nodes) {
		p.missing(at, "node", i, len(p.nodes))
		return false
	}
	d.node = &p.nodes[i]
	if d.node.part == scene.NoPart {
		p.problems.Once(scene.Unsupported, at, "outside", "node %d is not in the scene that is shown; this channel and others like it are left out", i)
		return false
	}
	return true
}

// animatable checks that the node has what the channel drives.
func (p *parser) animatable(d *drive) bool {
	if d.op == weightsOp {
		if d.node.weights == 0 {
			p.syntax(d.c.span, "the mesh of this channel's node has no morph targets; the channel is left out")
		}
		return d.node.weights > 0
	}
	if p.s.Parts[d.node.part].Ops[0].Kind == scene.Matrix {
		p.syntax(d.c.span, "the node of this channel has a matrix; only nodes with translation, rotation and scale can be animated, so the channel is left out")
		return false
	}
	return true
}

// shapeOf returns what a channel's output is read as.
func (d *drive) shapeOf(p *parser) (sh shape, ok bool) {
	switch d.s.interpolation {
	case "LINEAR", "STEP":
	case "CUBICSPLINE":
		sh.cubic, d.cubic = true, true
	default:
		p.problems.Once(scene.Unsupported, d.s.interpolationSpan, "interpolation "+d.s.interpolation, "expected LINEAR, STEP or CUBICSPLINE, found %s; it is read as LINEAR", quote(d.s.interpolation))
	}
	switch d.op {
	case 0, 2:
		sh.width = 3
	case 1:
		sh.width, sh.quaternion, sh.share = 4, true, true
	case weightsOp:
		sh.width, sh.share = d.node.weights, true
		if d.weight >= 0 {
			sh.width = 1
		}
	default:
		sh.width = 1
	}
	return sh, true
}

// column returns the column of the timeline that holds an input.
func (p *parser) column(input int, in *output) int {
	column, ok := p.inputs[input]
	if !ok {
		column = p.timeline.Add(in.values[0])
		p.inputs[input] = column
	}
	return column
}

// times returns the frames of a drive's keys.
func (p *parser) times(d *drive) []float64 {
	if p.known != nil {
		return p.known[d.c.span.Start]
	}
	return p.timeline.Frames(d.column)
}

// build makes the channels of a drive.
func (p *parser) build(d *drive) {
	switch d.op {
	case 0, 2:
		op := &p.s.Parts[d.node.part].Ops[d.op]
		quantity := scene.Length
		if d.op == 2 {
			quantity = scene.Factor
		}
		if p.claim(d, d.node.part, "") {
			for j, axis := range [...]string{".x", ".y", ".z"} {
				p.addChannel(d, d.node.part, d.op, j, op.Name+axis, quantity, j)
			}
		}
	case 1:
		if p.claim(d, d.node.part, "") {
			p.addChannel(d, d.node.part, 1, 0, "rotation", scene.Quaternion, 0)
		}
	case weightsOp:
		for i := 0; p.buildWeights(d, d.node) && i < len(d.others); i++ {
			d.node = &p.nodes[d.others[i]]
		}
	default:
		p.buildLens(d)
	}
}

// buildWeights makes the channels of the weights of a node; false when they are
// animated already.
func (p *parser) buildWeights(d *drive, n *node) bool {
	for j := range min(d.out.columns(), n.weights) {
		part := n.firstWeight + scene.PartID(j)
		if d.weight >= 0 {
			part = n.firstWeight + scene.PartID(d.weight)
		}
		if !p.claim(d, part, "") {
			return false
		}
		p.addChannel(d, part, scene.NoOp, 0, "weight", scene.Share, j)
	}
	return true
}

// claim notes that something is animated; false, with a problem, when it is
// already.
func (p *parser) claim(d *drive, part scene.PartID, lens string) bool {
	key := channelKey{part, d.op, lens}
	if p.keyed[key] {
		p.problems.Once(scene.Syntax, d.c.span, "twice "+strconv.Itoa(int(d.c.span.Start)), "an earlier channel of this animation drives the same thing; this one is left out")
		return false
	}
	p.keyed[key] = true
	return true
}

// addChannel adds a channel with column j of the output.
func (p *parser) addChannel(d *drive, part scene.PartID, op, component int, name string, q scene.Quantity, j int) {
	curve, ok := p.curve(d, j, q == scene.Quaternion)
	if !ok {
		return
	}
	p.s.Channels = append(p.s.Channels, scene.Channel{
		Part: part, Op: op, Component: component, Name: name, Quantity: q,
		Curve: curve, Def: d.c.span, Block: d.block,
	})
}
