package usda

import (
	"slices"
	"strings"

	"curvelint/parse/scene"
)

const (
	syntax      = scene.Syntax
	unsupported = scene.Unsupported
)

// declaration is the beginning of a property statement.
type declaration struct {
	start    int
	op       string // prepend, append, add, delete, reorder, or ""
	custom   bool
	uniform  bool
	relation bool
	typ      valueType
}

// property reads an attribute or relationship statement.
func (p *parser) property() {
	d := declaration{start: p.pos}
	if !p.declare(&d) {
		return
	}
	p.blank()
	at := p.pos
	name := p.names(":")
	if name == "" {
		what := "an attribute of type " + d.typ.title()
		if d.relation {
			what = "a relationship"
		}
		p.expected("the name of %s", what)
		return
	}
	if d.relation {
		p.relationship(d, name)
		return
	}
	p.attribute(d, name, at)
}

// declare reads what stands before the name of a property.
func (p *parser) declare(d *declaration) bool {
	switch w := p.word(); w {
	case "prepend", "append", "add", "delete", "reorder":
		d.op = w
		p.pos += len(w)
	}
	if d.op == "" || p.relationFollows() {
		d.custom = p.keyword("custom")
	}
	switch {
	case p.keyword("varying"):
		if p.word() != "rel" {
			return p.expected("'rel' after 'varying'")
		}
	case p.keyword("uniform"):
		d.uniform = true
	case p.keyword("config"):
	}
	if !d.uniform && p.keyword("rel") {
		d.relation = true
		return true
	}
	return p.attributeType(d)
}

// relationFollows reports whether custom rel comes next.
func (p *parser) relationFollows() bool {
	was := p.pos
	defer func() { p.pos = was }()
	if !p.keyword("custom") {
		return false
	}
	p.keyword("varying")
	return p.word() == "rel"
}

// notTypes are the words of the grammar that are no types.
var notTypes = map[string]bool{
	"def": true, "over": true, "class": true, "custom": true, "uniform": true, "config": true, "varying": true,
	"rel": true, "prepend": true, "append": true, "add": true, "delete": true, "reorder": true,
	"variantSet": true, "dictionary": true, "None": true,
}

// attributeType reads type or type[].
func (p *parser) attributeType(d *declaration) bool {
	switch w := p.word(); {
	case w == "":
		return p.expected("the type of an attribute, 'rel', or 'def', 'over' or 'class'")
	case notTypes[w]:
		return p.expected("the type of an attribute")
	}
	name := p.names("::")
	if p.eat('[') {
		if !p.want(']', "after '[' of the type "+name) {
			return false
		}
		name += "[]"
	}
	d.typ = typeNamed(name)
	return true
}

// reach returns the property of the open prim with the name, adding it if
// needed, after checking that it is declared the same way.
func (p *parser) reach(d declaration, name string, at int) *property {
	q := p.prim.prop(name)
	if q == nil {
		q = &property{name: name, typ: d.typ, relation: d.relation, uniform: d.uniform}
		q.header = extent{uint32(d.start), uint32(p.pos)}
		p.prim.props = append(p.prim.props, q)
		if p.prim.propNames != nil {
			p.prim.propNames[name] = q
		} else if len(p.prim.props) >= 8 {
			p.prim.prop("") // builds the index
		}
		return q
	}
	if q.relation == d.relation && !d.relation {
		switch {
		case q.typ.title() != d.typ.title():
			p.problem(at, p.pos, "expected type %s for '%s', as it was declared with before, found %s", q.typ.title(), name, d.typ.title())
		case q.uniform != d.uniform && d.op == "":
			p.problem(at, p.pos, "expected '%s' to be uniform both times or not at all", name)
		}
	}
	return q
}

// attribute reads what follows the name of an attribute.
func (p *parser) attribute(d declaration, name string, at int) {
	if p.eat('.') {
		p.attributePart(d, name, at)
		return
	}
	if d.op != "" {
		p.expected("'.connect' after '%s %s %s'", d.op, d.typ.title(), name)
		return
	}
	q := p.reach(d, name, at)
	if p.eat('=') {
		p.blank()
		start := p.pos
		q.blocked = false
		switch {
		case p.keyword("None") || p.keyword("AnimationBlock"):
			q.blocked = true
		case !p.value(d.typ):
			return
		}
		q.value = extent{uint32(start), uint32(p.pos)}
	}
	if p.peek() == '(' {
		p.metadata(attributePlace)
	}
}

// attributePart reads what follows the dot of name.timeSamples, name.connect
// or name.spline.
func (p *parser) attributePart(d declaration, name string, at int) {
	p.blank()
	partAt := p.pos
	part := p.word()
	p.pos += len(part)
	end := p.pos
	known := part == "connect" || d.op == "" && (part == "timeSamples" || part == "spline")
	if !known {
		p.pos = partAt
		if d.op != "" {
			p.expected("'connect' after '%s.'", name)
		} else {
			p.expected("'timeSamples', 'connect' or 'spline' after '%s.'", name)
		}
		return
	}
	q := p.reach(d, name, at)
	if p.bad || !p.want('=', "after '"+name+"."+part+"'") {
		return
	}
	switch part {
	case "connect":
		p.targets(d.op, &q.targets, "connection")
	case "timeSamples":
		q.sampled = extent{uint32(d.start), uint32(end)}
		p.timeSamples(q)
	case "spline":
		q.splined = extent{uint32(d.start), uint32(end)}
		p.spline(q)
	}
}

// relationship reads what follows the name of a relationship.
func (p *parser) relationship(d declaration, name string) {
	q := p.reach(d, name, p.pos)
	switch {
	case p.eat('.'):
		p.relationPart(name)
		return
	case p.eat('['):
		p.path(anyPath, "the path of a target")
		if !p.bad {
			p.want(']', "after the path of a target")
		}
		return
	}
	if p.eat('=') {
		p.targets(d.op, &q.targets, "target")
	}
	if p.peek() == '(' && d.op == "" {
		p.metadata(attributePlace)
	}
}

// relationPart reads name.default = <path> and name.timeSamples of older
// files.
func (p *parser) relationPart(name string) {
	switch part := p.word(); part {
	case "default":
		p.pos += len(part)
		if p.want('=', "after '"+name+".default'") {
			p.targets("", new(listOp), "target")
		}
	case "timeSamples":
		p.pos += len(part)
		if p.want('=', "after '"+name+".timeSamples'") && (p.peek() == '{' || p.expected("'{' to open the time samples")) {
			p.sampleBlock(func() bool { return p.anyValue() })
		}
	default:
		p.expected("'default' after '%s.'", name)
	}
}

// targets reads None, one path, or a list of paths into a list operation.
func (p *parser) targets(op string, into *listOp, what string) {
	p.blank()
	at := p.pos
	var list []arc
	one := func() bool {
		p.blank()
		start := p.pos
		x, ok := p.path(targetPath, "the path of a prim or property for this "+what)
		if ok && p.leavesScene(x) {
			p.problem(start, p.pos, "expected the path of a prim or property for this %s, found '<%s>', which leads to the root", what, x.text)
			return false
		}
		if ok {
			list = p.unique(list, arc{owner: p.layer, path: x, at: extent{uint32(start), uint32(p.pos)}})
		}
		return ok
	}
	switch {
	case p.keyword("None"):
	case p.peek() == '[':
		p.items('[', ']', "list", p.pos, one, true)
	default:
		one()
	}
	p.edit(into, op, list, at, what)
}

// leavesScene reports whether a relative path climbs from the open prim to the
// root or above it.
func (p *parser) leavesScene(x path) bool {
	if x.absolute || !strings.HasPrefix(x.prim, "..") {
		return false
	}
	depth := 0
	for n := p.prim; n != nil && n.parent != nil; n = n.parent {
		if !n.variant {
			depth++
		}
	}
	ups := strings.Count(x.prim, "..")
	return ups > depth || ups == depth && strings.Trim(x.prim, "./") == ""
}

// unique appends an item to a list in which nothing may stand twice.
func (p *parser) unique(list []arc, a arc) []arc {
	if len(list) < 64 && slices.ContainsFunc(list, a.same) {
		p.problem(int(a.at.start), int(a.at.end), "expected each item of this list once, found %s again", quoted(string(p.src[a.at.start:a.at.end])))
		return list
	}
	return append(list, a)
}

// edit stores a list under the list operation that it was written with.
func (p *parser) edit(into *listOp, op string, list []arc, at int, what string) {
	if p.bad {
		return
	}
	if op != "" && len(list) == 0 {
		p.pos = at
		p.expected("at least one %s after '%s' (an empty list can only be set, not edited)", what, op)
		return
	}
	switch op {
	case "":
		into.explicit, into.items = true, list
	case "prepend":
		into.prepend = list
	case "append", "add":
		into.append = append(into.append, list...)
	case "delete":
		into.delete = list
	}
}
