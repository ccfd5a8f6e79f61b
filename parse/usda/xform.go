package usda

import (
	"strings"

	"curvelint/parse/scene"
)

// opKinds are the transform ops by the word after "xformOp:".
var opKinds = map[string]scene.OpKind{
	"translate": scene.Translate, "scale": scene.Scale, "orient": scene.Orient, "transform": scene.Matrix,
	"rotateX": scene.RotateX, "rotateY": scene.RotateY, "rotateZ": scene.RotateZ,
	"rotateXYZ": scene.RotateXYZ, "rotateXZY": scene.RotateXZY, "rotateYXZ": scene.RotateYXZ,
	"rotateYZX": scene.RotateYZX, "rotateZXY": scene.RotateZXY, "rotateZYX": scene.RotateZYX,
	"translateX": scene.TranslateX, "translateY": scene.TranslateY, "translateZ": scene.TranslateZ,
	"scaleX": scene.ScaleX, "scaleY": scene.ScaleY, "scaleZ": scene.ScaleZ,
}

// quantityOf returns what the numbers of an op measure.
func quantityOf(k scene.OpKind) scene.Quantity {
	switch k {
	case scene.Translate, scene.TranslateX, scene.TranslateY, scene.TranslateZ:
		return scene.Length
	case scene.Scale, scene.ScaleX, scene.ScaleY, scene.ScaleZ:
		return scene.Factor
	case scene.Orient:
		return scene.Quaternion
	case scene.Matrix:
		return scene.Transform
	}
	return scene.Angle
}

// transform adds the transform stack of a prim to its part: the ops that
// xformOpOrder names, in its order.
func (b *builder) transform(p *composed, id scene.PartID) {
	order, ok := p.valued("xformOpOrder")
	if !ok || !order.hasValue() {
		return
	}
	names, spans := order.strings()
	for i, name := range names {
		if name == "!resetXformStack!" {
			// What stands before the reset does nothing.
			b.dropOps(id)
			b.scene.Parts[id].ResetStack = true
			continue
		}
		b.op(p, id, name, order.span(spans[i]))
	}
}

// dropOps takes away the ops of a part, with their channels, which are the
// last ones added.
func (b *builder) dropOps(id scene.PartID) {
	b.scene.Parts[id].Ops = nil
	n := len(b.scene.Channels)
	for n > 0 && b.scene.Channels[n-1].Part == id {
		n--
	}
	b.scene.Channels = b.scene.Channels[:n]
}

// op adds one op of a stack. An op without a value does nothing and is left
// out.
func (b *builder) op(p *composed, id scene.PartID, name string, at scene.Span) {
	attribute, inverse := strings.CutPrefix(name, "!invert!")
	word, _, _ := strings.Cut(strings.TrimPrefix(attribute, "xformOp:"), ":")
	kind, known := opKinds[word]
	if !known || !strings.HasPrefix(attribute, "xformOp:") {
		b.problems.Add(scene.Unsupported, at, "expected a transform op such as xformOp:translate, found %s; it is left out of %s", quoted(name), p.path)
		return
	}
	v, ok := p.valued(attribute)
	if !ok {
		return
	}
	if !fitsOp(v.typ, kind) {
		b.problems.Add(scene.Unsupported, v.span(v.declared()), "expected a type of %s for %s, found %s; the op is left out of %s", widthTitle(kind), attribute, v.typ.title(), p.path)
		return
	}
	value, _ := v.static()
	span := v.span(v.value)
	if v.animated() {
		value = v.first() // the channels win anyway
		span = v.span(v.animation())
	}
	if len(value) != kind.Width() {
		return
	}
	part := &b.scene.Parts[id]
	part.Ops = append(part.Ops, scene.Op{Kind: kind, Name: attribute, Inverse: inverse, Value: value, Span: span})
	own := strings.TrimPrefix(attribute, "xformOp:")
	if inverse {
		own = "!invert!" + own
	}
	b.animate(id, len(part.Ops)-1, own, quantityOf(kind), v)
}

// animation returns the block of the attribute's samples or spline.
func (v stated) animation() extent {
	if v.samples != nil {
		return v.samples.block
	}
	return v.spline.block
}

// fitsOp reports whether values of a type can drive an op.
func fitsOp(t valueType, k scene.OpKind) bool {
	if t.base != real || t.array || t.width() != k.Width() {
		return false
	}
	switch k {
	case scene.Orient:
		return t.role == quaternion
	case scene.Matrix:
		return t.role == matrix
	}
	return !t.asWhole()
}

func widthTitle(k scene.OpKind) string {
	switch k.Width() {
	case 1:
		return "one number"
	case 3:
		return "three numbers"
	case 4:
		return "a quaternion"
	}
	return "a matrix of 4 by 4 numbers"
}

// strings returns the strings of a static list of strings or tokens, or of a
// single one, with where each is written.
func (v stated) strings() ([]string, []extent) {
	p := parser{src: v.layer.src[:v.value.end], pos: int(v.value.start), maxDepth: defaultMaxDepth}
	var list []string
	var at []extent
	one := func() bool {
		p.blank()
		start := p.pos
		s, ok := p.text("")
		if ok {
			q := len(p.quoteAt(start))
			list, at = append(list, s), append(at, extent{uint32(start + q), uint32(p.pos - q)})
		}
		return ok
	}
	if p.peek() == '[' {
		p.list(one)
	} else if !v.blocked {
		one()
	}
	return list, at
}
