package usda

import (
	"strings"

	"curvelint/parse/scene"
)

// scalars adds a part for each free animated number of a prim: an attribute
// that no transform, lens or skeleton uses. A number that stays between 0 and
// 1 is taken for a weight.
func (b *builder) scalars(p *composed, id scene.PartID, typ string) {
	seen := map[string]bool{}
	for _, o := range p.opinions {
		for _, q := range o.prim.props {
			if q.relation || q.samples == nil && q.spline == nil || seen[q.name] {
				continue
			}
			seen[q.name] = true
			if used(q.name, typ) {
				continue
			}
			if v, ok := p.valued(q.name); ok {
				b.scalar(p, id, v)
			}
		}
	}
}

// used reports whether an attribute is read elsewhere or is known not to be
// motion of its own.
func used(name, typ string) bool {
	switch {
	case strings.HasPrefix(name, "xformOp:"), typ == "Camera" && lensNames[name]:
		return true
	case typ == "Skeleton" || typ == "SkelAnimation":
		return true
	}
	switch name {
	case "visibility", "purpose", "extent", "extentsHint", "primvars:displayColor", "primvars:displayOpacity":
		return true
	}
	return false
}

// scalar adds the parts of one animated attribute.
func (b *builder) scalar(p *composed, id scene.PartID, v stated) {
	if v.typ.array || !v.typ.numeric() {
		if v.typ.array && v.typ.base == real && v.samples != nil && v.samples.block.end > v.samples.block.start+2 {
			b.once("arrays", v.span(v.declared()), "animated lists such as %s of %s are not studied: what deforms a surface point by point is not seen as motion", v.name, p.path)
		}
		return
	}
	if v.typ.role != plain || !v.animated() {
		return
	}
	if v.samples == nil {
		part := b.scalarPart(id, v.name, v.name, isShare(v, nil), v)
		b.animate(part, scene.NoOp, v.name, b.quantity(part), v)
		return
	}
	for c := range v.samples.cols {
		name := v.name
		if len(v.samples.cols) > 1 {
			name += "." + axisName(c)
		}
		part := b.scalarPart(id, name, name, isShare(v, &v.samples.cols[c]), v)
		b.channel(part, scene.NoOp, 0, name, b.quantity(part), v, &v.samples.cols[c])
	}
}

// quantity returns what the number of a weight or scalar part measures.
func (b *builder) quantity(id scene.PartID) scene.Quantity {
	if b.scene.Parts[id].Kind == scene.Weight {
		return scene.Share
	}
	return scene.Number
}

// isShare reports whether all keys lie between 0 and 1.
func isShare(v stated, col *column) bool {
	if v.typ.base != real {
		return false
	}
	if col == nil {
		for _, k := range v.spline.knots {
			if k.value < 0 || k.value > 1 {
				return false
			}
		}
		return true
	}
	for _, x := range col.values {
		if x < 0 || x > 1 {
			return false
		}
	}
	return true
}

// scalarPart adds the part of one free number below a part.
func (b *builder) scalarPart(parent scene.PartID, name, path string, share bool, v stated) scene.PartID {
	kind := scene.Scalar
	if share {
		kind = scene.Weight
	}
	at := v.declared()
	nameAt := at
	if n := strings.LastIndex(string(v.layer.src[at.start:at.end]), v.name); n >= 0 {
		nameAt = extent{at.start + uint32(n), at.start + uint32(n+len(v.name))}
	}
	return b.add(scene.Part{
		Parent: parent, Name: name, Path: b.scene.Parts[parent].Path + "/" + path, Kind: kind,
		Def: v.span(at), NameSpan: v.span(nameAt), Body: v.span(extent{at.start, v.animation().end}),
	})
}
