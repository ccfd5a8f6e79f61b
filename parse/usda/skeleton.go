package usda

import (
	"math"
	"slices"
	"strings"

	"curvelint/parse/scene"
)

// bindSkeletons finds the animation of every skeleton at or below a prim.
func (b *builder) bindSkeletons(p *composed) {
	if p.typ() == "Skeleton" {
		a := b.animationOf(p)
		if a == nil {
			a = b.animationOfBound(p)
		}
		if a == nil {
			a = onlyAnimation(p)
		}
		if a != nil {
			b.animations[p.path] = a
			b.bound[a] = true
		}
	}
	for _, k := range p.kids {
		b.bindSkeletons(k)
	}
}

// animationOf returns the SkelAnimation that a prim or the nearest of its
// ancestors names, nil if none.
func (b *builder) animationOf(p *composed) *composed {
	for ; p != nil; p = p.parent {
		if t := p.target("skel:animationSource"); t != "" {
			if a := b.prims[t]; a != nil && a.typ() == "SkelAnimation" {
				return a
			}
			return nil
		}
	}
	return nil
}

// animationOfBound returns the animation named by a prim that the skeleton
// deforms, as older files have it.
func (b *builder) animationOfBound(skeleton *composed) *composed {
	top := skeleton
	for top.parent != nil {
		top = top.parent
	}
	var found *composed
	var walk func(p *composed)
	walk = func(p *composed) {
		if found == nil && p.target("skel:skeleton") == skeleton.path {
			found = b.animationOf(p)
		}
		for _, k := range p.kids {
			if found == nil {
				walk(k)
			}
		}
	}
	walk(top)
	return found
}

// onlyAnimation returns the animation in the SkelRoot around a skeleton when
// there is just one there and just one skeleton, nil otherwise.
func onlyAnimation(skeleton *composed) *composed {
	top := skeleton
	for top.parent != nil && top.typ() != "SkelRoot" {
		top = top.parent
	}
	var found []*composed
	skeletons := 0
	var walk func(p *composed)
	walk = func(p *composed) {
		switch p.typ() {
		case "SkelAnimation":
			found = append(found, p)
		case "Skeleton":
			skeletons++
		}
		for _, k := range p.kids {
			walk(k)
		}
	}
	walk(top)
	if top.typ() != "SkelRoot" || len(found) != 1 || skeletons != 1 {
		return nil
	}
	return found[0]
}

// joint is one joint of a skeleton while its parts are made.
type joint struct {
	path   string
	at     scene.Span
	index  int // in the skeleton
	inAnim int // in the animation, -1 if not there
}

// skeleton adds the joints of a skeleton below its part, moved by animation,
// which may be nil, and the weights of its blend shapes. p may be an animation
// without a skeleton, which then gives the joints itself.
func (b *builder) skeleton(p *composed, id scene.PartID, animation *composed) {
	joints := b.joints(p)
	rest := b.restOf(p, len(joints))
	var moves movement
	if animation != nil {
		b.claim(animation, id)
		moves = b.movement(animation)
		for i := range joints {
			if k, ok := moves.joints[joints[i].path]; ok {
				joints[i].inAnim = k
			}
		}
	}
	slices.SortStableFunc(joints, func(x, y joint) int { return strings.Count(x.path, "/") - strings.Count(y.path, "/") })
	byPath := make(map[string]scene.PartID, len(joints))
	for _, j := range joints {
		part := scene.Part{
			Parent: id, Name: j.path[strings.LastIndexByte(j.path, '/')+1:], Path: b.scene.Parts[id].Path + "/" + j.path,
			Kind: scene.Joint, Def: j.at, NameSpan: j.at, Body: j.at,
		}
		for up := j.path; ; {
			n := strings.LastIndexByte(up, '/')
			if n < 0 {
				break
			}
			up = up[:n]
			if parent, ok := byPath[up]; ok {
				part.Parent = parent
				break
			}
		}
		if rest != nil {
			part.Rest, part.HasRest = rest[j.index], true
		}
		jointID := b.add(part)
		byPath[j.path] = jointID
		b.jointOps(jointID, j, &moves)
	}
	if animation != nil {
		b.weights(animation, id)
	}
}

// joints returns the joints that a prim lists.
func (b *builder) joints(p *composed) []joint {
	v, ok := p.valued("joints")
	if !ok || !v.hasValue() {
		return nil
	}
	names, at := v.strings()
	list := make([]joint, len(names))
	for i, name := range names {
		list[i] = joint{path: strings.Trim(name, "/"), at: v.span(at[i]), index: i, inAnim: -1}
	}
	return list
}

// restOf returns the rest transforms of a skeleton with n joints, nil if it
// gives none.
func (b *builder) restOf(p *composed, n int) []scene.Mat4 {
	v, ok := p.valued("restTransforms")
	if !ok || v.typ.role != matrix || v.typ.rows != 4 {
		return nil
	}
	numbers, _ := v.static()
	if numbers == nil {
		return nil
	}
	if len(numbers) != 16*n {
		b.problems.Add(scene.PartialExport, v.span(v.value), "expected %d rest transforms, one for each joint of %s, found %d; the rest pose is left out", n, p.path, len(numbers)/16)
		return nil
	}
	rest := make([]scene.Mat4, n)
	for i := range rest {
		rest[i] = scene.Mat4(numbers[16*i:])
	}
	return rest
}

// movement is what an animation says about its joints.
type movement struct {
	joints map[string]int // index by path
	ops    [3]jointOp     // translate, orient, scale
}

// jointOp is one attribute of an animation.
type jointOp struct {
	ok     bool
	v      stated
	static []float64
	spans  []uint32
}

var jointAttributes = [3]struct {
	name, op string
	kind     scene.OpKind
}{{"translations", "translate", scene.Translate}, {"rotations", "orient", scene.Orient}, {"scales", "scale", scene.Scale}}

// movement reads the attributes of an animation.
func (b *builder) movement(a *composed) movement {
	m := movement{joints: map[string]int{}}
	for _, j := range b.joints(a) {
		m.joints[j.path] = j.index
	}
	for i, attribute := range jointAttributes {
		v, ok := a.valued(attribute.name)
		if !ok || !v.typ.array || v.typ.base != real || v.typ.width() != attribute.kind.Width() || v.typ.asWhole() != (i == 1) {
			continue
		}
		op := jointOp{ok: true, v: v}
		op.static, op.spans = v.static()
		n := len(op.static) / v.typ.width()
		if v.animated() {
			n = v.samples.elems
		} else if op.static == nil {
			continue
		}
		if n != len(m.joints) {
			b.problems.Add(scene.PartialExport, v.span(v.declared()), "expected %d %s, one for each joint of %s, found %d; they are left out", len(m.joints), attribute.name, a.path, n)
			continue
		}
		if len(op.static) != n*v.typ.width() {
			op.static = nil
		}
		m.ops[i] = op
	}
	return m
}

// jointOps gives a joint its ops: those of the animation with the rest pose
// where it says nothing, or the rest pose alone.
func (b *builder) jointOps(id scene.PartID, j joint, m *movement) {
	part := &b.scene.Parts[id]
	if j.inAnim < 0 || !m.ops[0].ok && !m.ops[1].ok && !m.ops[2].ok {
		if part.HasRest {
			part.Ops = []scene.Op{{Kind: scene.Matrix, Name: "rest", Value: slices.Clone(part.Rest[:]), Span: part.Def}}
		}
		return
	}
	rest := scene.Identity
	if part.HasRest {
		rest = part.Rest
	}
	translate, orient, scale := takeApart(rest)
	part.Ops = make([]scene.Op, 0, 3)
	for i, still := range [3][]float64{translate, orient, scale} {
		a := jointAttributes[i]
		op := &m.ops[i]
		w := a.kind.Width()
		out := scene.Op{Kind: a.kind, Name: a.name, Value: still, Span: part.Def}
		if op.static != nil {
			out.Value = slices.Clone(op.static[j.inAnim*w : (j.inAnim+1)*w])
			out.Span = op.v.span(op.v.value)
		}
		part.Ops = append(part.Ops, out)
		if op.ok && op.v.animated() {
			b.jointChannels(id, i, j.inAnim, op)
		}
	}
}

// jointChannels adds the channels of one op of one joint.
func (b *builder) jointChannels(id scene.PartID, i, element int, op *jointOp) {
	a := jointAttributes[i]
	target := &b.scene.Parts[id].Ops[i]
	target.Span = op.v.span(op.v.samples.block)
	cols := op.v.samples.cols
	if a.kind == scene.Orient {
		col := &cols[element]
		target.Value = slices.Clone(col.values[:4])
		b.channel(id, i, 0, a.op, scene.Quaternion, op.v, col)
		return
	}
	for c := range 3 {
		col := &cols[element*3+c]
		target.Value[c] = col.values[0]
		b.channel(id, i, c, a.op+"."+axisName(c), quantityOf(a.kind), op.v, col)
	}
}

// weights adds a part for each blend shape whose weight is animated.
func (b *builder) weights(a *composed, id scene.PartID) {
	names, ok := a.valued("blendShapes")
	v, has := a.valued("blendShapeWeights")
	if !ok || !has || !names.hasValue() || !v.animated() || !v.typ.array || v.typ.rows != 0 {
		return
	}
	list, at := names.strings()
	if len(list) != v.samples.elems {
		b.problems.Add(scene.PartialExport, v.span(v.declared()), "expected %d weights, one for each blend shape of %s, found %d; they are left out", len(list), a.path, v.samples.elems)
		return
	}
	for i, name := range list {
		where := names.span(at[i])
		part := b.add(scene.Part{
			Parent: id, Name: name, Path: b.scene.Parts[id].Path + "/" + name, Kind: scene.Weight,
			Def: where, NameSpan: where, Body: where,
		})
		b.channel(part, scene.NoOp, 0, name, scene.Share, v, &v.samples.cols[i])
	}
}

// takeApart splits an affine matrix without shear into translate, a unit
// quaternion (real part first) and scale, so that their product is the matrix.
// A mirrored matrix gets a negative first scale.
func takeApart(m scene.Mat4) (translate, orient, scale []float64) {
	translate = []float64{m[3], m[7], m[11]}
	scale = make([]float64, 3)
	var r [3][3]float64
	for c := range 3 {
		scale[c] = math.Sqrt(m[c]*m[c] + m[4+c]*m[4+c] + m[8+c]*m[8+c])
	}
	det := m[0]*(m[5]*m[10]-m[6]*m[9]) - m[1]*(m[4]*m[10]-m[6]*m[8]) + m[2]*(m[4]*m[9]-m[5]*m[8])
	if det < 0 {
		scale[0] = -scale[0]
	}
	for c := range 3 {
		for row := range 3 {
			if scale[c] != 0 {
				r[row][c] = m[4*row+c] / scale[c]
			} else if row == c {
				r[row][c] = 1
			}
		}
	}
	return translate, quaternionOf(r), scale
}

// quaternionOf returns the unit quaternion of a rotation matrix, taking the
// square root of the largest of the four candidates, which is exact enough for
// every angle.
func quaternionOf(r [3][3]float64) []float64 {
	squares := [4]float64{
		1 + r[0][0] + r[1][1] + r[2][2], 1 + r[0][0] - r[1][1] - r[2][2],
		1 - r[0][0] + r[1][1] - r[2][2], 1 - r[0][0] - r[1][1] + r[2][2],
	}
	best := 0
	for i, v := range squares {
		if v > squares[best] {
			best = i
		}
	}
	var q []float64
	switch best {
	case 0:
		q = []float64{squares[0], r[2][1] - r[1][2], r[0][2] - r[2][0], r[1][0] - r[0][1]}
	case 1:
		q = []float64{r[2][1] - r[1][2], squares[1], r[0][1] + r[1][0], r[0][2] + r[2][0]}
	case 2:
		q = []float64{r[0][2] - r[2][0], r[0][1] + r[1][0], squares[2], r[1][2] + r[2][1]}
	default:
		q = []float64{r[1][0] - r[0][1], r[0][2] + r[2][0], r[1][2] + r[2][1], squares[3]}
	}
	n := math.Sqrt(q[0]*q[0] + q[1]*q[1] + q[2]*q[2] + q[3]*q[3])
	if n == 0 {
		return []float64{1, 0, 0, 0}
	}
	for i := range q {
		q[i] /= n
	}
	return q
}
