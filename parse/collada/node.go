package collada

import (
	"strconv"
	"strings"

	"curvelint/parse/scene"
	"curvelint/parse/text"
	"curvelint/parse/xml"
)

// node is a node of a visual scene or of a library, or a visual scene itself.
type node struct {
	id, sid, name string
	joint         bool
	ops           []transform
	children      []child
	skins         []skinRef
	cameras       []ref
	geometry      bool
	light         bool
	extras        []string // sids in extra elements
	def, nameSpan scene.Span
	body          scene.Span

	active bool           // it is being made into parts
	parts  []scene.PartID // the parts made of it
}

// child is a node inside a node, or an instance of another one.
type child struct {
	node     *node
	instance ref
}

// transform is one transform element.
type transform struct {
	kind  scene.OpKind
	sid   string
	value []float64
	span  scene.Span
}

// skinRef is an instance of a controller with the roots of its skeleton.
type skinRef struct {
	controller ref
	skeletons  []ref
}

// transformKinds are the transform elements.
var transformKinds = map[string]scene.OpKind{
	"translate": scene.Translate, "rotate": scene.RotateAxis, "scale": scene.Scale,
	"matrix": scene.Matrix, "lookat": scene.LookAt, "skew": scene.Skew,
}

// visualScene reads a visual scene.
func (p *parser) visualScene(t xmlscan.Token) {
	n := &node{id: p.r.AttrValue("id")}
	p.children(p.only("node", func(t xmlscan.Token) {
		n.children = append(n.children, child{node: p.node(t)})
	}))
	if p.firstScene == nil {
		p.firstScene = n
	}
	register(p, p.scenes, n.id, n, span(t.Pos, t.End))
}

// register enters a thing under its id; the first of several keeps it.
func register[T any](p *parser, m map[string]T, id string, v T, at scene.Span) {
	if id == "" {
		return
	}
	if _, taken := m[id]; taken {
		p.problems.Once(scene.Syntax, at, "twice "+id, "the id %s is used twice; references to it mean the first", quote(id))
		return
	}
	m[id] = v
}

// node reads a node with everything below it.
func (p *parser) node(t xmlscan.Token) *node {
	n := &node{
		id: p.r.AttrValue("id"), sid: p.r.AttrValue("sid"),
		joint: p.r.AttrValue("type") == "JOINT", def: span(t.Pos, t.End), nameSpan: span(t.Pos, t.End),
	}
	for _, key := range []string{"name", "id", "sid"} {
		if a, ok := p.r.Attr(key); ok && a.End > a.Start {
			n.name, n.nameSpan = p.r.Value(a), span(a.Start, a.End)
			break
		}
	}
	if n.name == "" {
		n.name = "node"
	}
	register(p, p.nodes, n.id, n, n.def)
	outer := p.inNode
	p.inNode = n
	end := p.children(func(t xmlscan.Token) { p.nodeChild(n, t) })
	p.inNode = outer
	n.body = span(t.Pos, end)
	return n
}

func (p *parser) nodeChild(n *node, t xmlscan.Token) {
	name := string(t.Name)
	if kind, ok := transformKinds[name]; ok {
		n.ops = append(n.ops, p.transform(kind, t))
		return
	}
	switch name {
	case "node":
		n.children = append(n.children, child{node: p.node(t)})
	case "instance_node":
		n.children = append(n.children, child{instance: p.attrRef("url")})
	case "instance_camera":
		n.cameras = append(n.cameras, p.attrRef("url"))
	case "instance_controller":
		n.geometry = true
		skin := skinRef{controller: p.attrRef("url")}
		p.children(func(t xmlscan.Token) {
			if string(t.Name) == "skeleton" {
				word, at := p.text()
				skin.skeletons = append(skin.skeletons, ref{word, at})
			}
		})
		n.skins = append(n.skins, skin)
	case "instance_geometry":
		n.geometry = true
	case "instance_light":
		n.light = true
	case "extra":
		p.extraSIDs(n)
	case "asset":
	default:
		p.unknown(t, "a transform, an instance or a node")
	}
}

// extraSIDs notes what a writer's own elements in a node are called: they may
// be animated, but move nothing.
func (p *parser) extraSIDs(n *node) {
	p.children(func(t xmlscan.Token) {
		if sid := p.r.AttrValue("sid"); sid != "" {
			n.extras = append(n.extras, sid)
		}
		p.extraSIDs(n)
	})
}

// transform reads a transform element. One that does not hold as many numbers
// as its kind takes does nothing.
func (p *parser) transform(kind scene.OpKind, t xmlscan.Token) transform {
	op := transform{kind: kind, sid: p.r.AttrValue("sid")}
	list, end := p.texts()
	op.span = span(t.Pos, end)
	want := kind.Width()
	op.value = make([]float64, 0, want)
	broken := false
	p.words(list, func(start, stop int) bool {
		v, e, ok := text.Float(p.src, start)
		if !ok || e != stop || v-v != 0 {
			p.notNumber(span(start, stop))
			broken = true
			v = 0
		}
		op.value = append(op.value, v)
		return len(op.value) <= want
	})
	if len(op.value) != want && !broken {
		p.syntax(op.span, "expected %d numbers in %s, found %v; it is left out", want, t.Name, counted(len(op.value), want))
	}
	if len(op.value) != want || broken {
		op.value = neutral(kind)
	}
	return op
}

// notNumber reports a word that should be a number. Writers in countries with a
// decimal comma get it wrong everywhere, which is said once.
func (p *parser) notNumber(at scene.Span) {
	word := string(p.src[at.Start:at.End])
	if hasDecimalComma(word) {
		p.problems.Once(scene.Syntax, at, "comma", "expected a number, found %s: numbers have a decimal point in COLLADA; set the exporter to it. Transforms with a comma are left out", quote(word))
		return
	}
	p.syntax(at, "expected a number, found %s", quote(word))
}

// hasDecimalComma reports whether a word is a number but for its comma.
func hasDecimalComma(word string) bool {
	if strings.Count(word, ",") != 1 {
		return false
	}
	_, err := strconv.ParseFloat(strings.Replace(word, ",", ".", 1), 64)
	return err == nil
}

// counted says how many numbers were found where reading stops behind want.
func counted(n, want int) any {
	if n > want {
		return "more"
	}
	return n
}

// neutral returns the components of a transform that changes nothing.
func neutral(kind scene.OpKind) []float64 {
	v := make([]float64, kind.Width())
	switch kind {
	case scene.Scale:
		v[0], v[1], v[2] = 1, 1, 1
	case scene.RotateAxis:
		v[0] = 1
	case scene.Matrix:
		copy(v, scene.Identity[:])
	case scene.Skew:
		v[1], v[5] = 1, 1
	case scene.LookAt:
		v[5], v[7] = -1, 1
	}
	return v
}

// words calls visit with the place of each word of a text until visit returns
// false. References count as parts of words, except white space.
func (p *parser) words(list []textRange, visit func(start, end int) bool) {
	for _, t := range list {
		src, base := p.plain(t)
		for i := t.start - base; i < t.end-base; {
			if isSpace(src[i]) {
				i++
				continue
			}
			start := i
			for i < t.end-base && !isSpace(src[i]) {
				i++
			}
			if !visit(start+base, i+base) {
				return
			}
		}
	}
}

// plain returns bytes in which a text can be read in place: those of the file,
// or a copy in which references to white space are white space. Byte i of the
// file is byte i-base of it.
func (p *parser) plain(t textRange) (src []byte, base int) {
	if t.escaped {
		return p.r.Numbers(t.start, t.end), t.start
	}
	return p.src, 0
}
