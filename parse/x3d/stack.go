package x3d

import "curvelint/parse/scene"

// stack builds the transform stack of one part.
type stack struct {
	*builder
	node *node
	part scene.PartID
}

// transform adds the operations of a node with the fields of a Transform,
//
//	P' = T * C * R * SR * S * -SR * -C * P
//
// (ISO/IEC 19775-1, 10.4.4), and returns the shift of its children. The parts
// of a figure's joints have their origin at the center: there -C is left to
// the children. What would change nothing is left out.
func (s stack) transform(outer [3]float64) (shift [3]float64) {
	s.before(outer)
	s.vector(scene.Translate, "translation", [3]float64{}, false)
	center, centered := s.static("center", [3]float64{})
	centered = centered || s.driven("center")
	if centered {
		s.vector(scene.Translate, "center", [3]float64{}, false)
	}
	s.rotation("rotation", false)
	s.scale()
	if s.node.kind == joint && !s.driven("center") {
		shift = center
		s.rest(outer, center)
	} else if centered {
		s.vector(scene.Translate, "center", [3]float64{}, true)
	}
	return shift
}

// rest declares the pose at rest of a figure's joint: the default pose has all
// joints unturned (ISO/IEC 19774), so that only their centers count.
func (s stack) rest(outer, center [3]float64) {
	p := &s.scene.Parts[s.part]
	p.Rest, p.HasRest = scene.Identity, true
	for i := range center {
		p.Rest[4*i+3] = center[i] - outer[i]
	}
}

// before undoes the shift of the part above.
func (s stack) before(outer [3]float64) {
	if outer == [3]float64{} {
		return
	}
	s.add(scene.Op{Kind: scene.Translate, Name: "center of parent", Inverse: true, Value: outer[:], Span: s.node.head})
}

// scale adds SR * S * -SR. A scale that is the same along all axes needs no
// orientation.
func (s stack) scale() {
	v, written := s.static("scale", [3]float64{1, 1, 1})
	moves := s.driven("scale")
	if !moves && (!written || v == [3]float64{1, 1, 1}) {
		return
	}
	turned := moves || v[0] != v[1] || v[1] != v[2]
	if turned {
		turned = s.rotation("scaleOrientation", false)
	}
	s.vector(scene.Scale, "scale", [3]float64{1, 1, 1}, false)
	if turned {
		s.rotation("scaleOrientation", true)
	}
}

// driven reports whether a field is animated.
func (s stack) driven(field string) bool {
	_, ok := s.drives[target{s.node, field}]
	return ok
}

// static returns the written value of a field of three numbers and whether it
// differs from the default.
func (s stack) static(field string, fallback [3]float64) (v [3]float64, differs bool) {
	v = fallback
	s.doc.vector(s.node, field, v[:])
	return v, v != fallback
}

// vector adds an operation of three numbers, if it is animated or changes
// anything; neutral is the value that does not, and the field's default.
func (s stack) vector(kind scene.OpKind, field string, neutral [3]float64, inverse bool) {
	v, differs := s.static(field, neutral)
	if differs || s.driven(field) {
		s.vectorOp(kind, field, v, inverse)
	}
}

// vectorOp adds an operation of three numbers with its channels.
func (s stack) vectorOp(kind scene.OpKind, field string, v [3]float64, inverse bool) {
	op := s.add(scene.Op{Kind: kind, Name: field, Inverse: inverse, Value: v[:], Span: s.place(field)})
	quantity := scene.Length
	if kind == scene.Scale {
		quantity = scene.Factor
	}
	s.channels(field, op, channelName(field, inverse), quantity)
}

// rotation adds a rotation, if it is animated or turns at all, and returns
// whether it did.
func (s stack) rotation(field string, inverse bool) bool {
	v := []float64{0, 0, 1, 0}
	s.doc.vector(s.node, field, v)
	if v[3] == 0 && !s.driven(field) {
		return false
	}
	q := quaternion(v[0], v[1], v[2], v[3]*s.doc.radian)
	op := s.add(scene.Op{Kind: scene.Orient, Name: field, Inverse: inverse, Value: q[:], Span: s.place(field)})
	s.channels(field, op, channelName(field, inverse), scene.Quaternion)
	return true
}

// channelName tells the channels of an operation and of its inverse apart.
func channelName(field string, inverse bool) string {
	if inverse {
		return field + " undone"
	}
	return field
}

// add appends an operation to the part's stack and returns its index.
func (s stack) add(op scene.Op) int {
	p := &s.scene.Parts[s.part]
	p.Ops = append(p.Ops, op)
	return len(p.Ops) - 1
}

// place returns where a field's value or animation is written.
func (s stack) place(field string) scene.Span {
	if dr, ok := s.drives[target{s.node, field}]; ok {
		return dr.interp.valueSpan()
	}
	if f, ok := s.node.find(field); ok {
		return span(int(f.start), int(f.end))
	}
	return s.node.head
}

// valueSpan returns where the values of an interpolator are written.
func (n *node) valueSpan() scene.Span {
	if f, ok := n.find("keyValue"); ok {
		return span(int(f.start), int(f.end))
	}
	return n.head
}

// channels adds the channels of an animated field: one for each number, or one
// for a rotation. It returns the first.
func (s stack) channels(field string, op int, name string, quantity scene.Quantity) scene.ChannelID {
	dr, ok := s.drives[target{s.node, field}]
	if !ok {
		return scene.NoChannel
	}
	first := scene.NoChannel
	for j, curve := range s.curvesOf(dr) {
		ch := scene.Channel{
			Part: s.part, Op: op, Component: j, Name: name, Quantity: quantity,
			Curve: curve, Def: dr.interp.head, Block: dr.interp.valueSpan(),
		}
		if fieldShapes[field] == three {
			ch.Name += [...]string{".x", ".y", ".z"}[j]
		}
		if id := s.channel(ch); j == 0 {
			first = id
		}
	}
	return first
}
