package usda

import (
	"slices"
	"strings"
)

// contents reads what may stand in the block of a prim or a variant, whose
// opening brace comes next.
func (p *parser) contents(what string) {
	if !p.want('{', "to open the block of "+what) {
		return
	}
	open := p.pos - 1
	if !p.enter(open) {
		p.pos = open
		return
	}
	defer p.leave()
	p.statements(open, '}', "the block of "+what, p.primStatement)
}

// primStatement reads one statement of a prim's block.
func (p *parser) primStatement() bool {
	start := p.pos
	switch p.word() {
	case "def", "over", "class":
		return p.primBlock()
	case "variantSet":
		p.pos += len("variantSet")
		return p.variantSet()
	case "reorder":
		p.pos += len("reorder")
		switch p.word() {
		case "nameChildren", "properties", "rootPrims":
			p.order()
			return false
		}
		p.pos = start
	}
	p.property()
	return false
}

// order reads: reorder nameChildren = ["a", "b"], after its first word. The
// order of parts does not matter to the study.
func (p *parser) order() {
	p.pos += len(p.word())
	if p.want('=', "after the word before") {
		p.nameList()
	}
}

// nameList reads "a" or ["a", "b"].
func (p *parser) nameList() {
	one := func() bool { _, ok := p.text("a name"); return ok }
	if p.peek() == '[' {
		p.items('[', ']', "list", p.pos, one, false)
		return
	}
	one()
}

// primBlock reads def Type "name" (metadata) { ... }.
func (p *parser) primBlock() bool {
	start := p.pos
	n := &prim{parent: p.prim, header: extent{start: uint32(start)}}
	word := p.word()
	n.spec = map[string]specifier{"def": def, "over": over, "class": class}[word]
	p.pos += len(word)
	if c := p.peek(); c != '"' && c != '\'' {
		if notTypes[p.word()] {
			return p.expected("the type or the name in quotes after '%s'", word)
		}
		if n.typ = p.typeName(); n.typ == "" {
			return p.expected("the type or the name in quotes after '%s'", word)
		}
	}
	p.blank()
	at := p.pos
	name, ok := p.text("the name of this " + word)
	if !ok {
		return false
	}
	q := len(p.quoteAt(at))
	n.name = name
	n.nameAt = extent{uint32(at + q), uint32(p.pos - q)}
	n.header.end = uint32(p.pos)
	if identifierEnd([]byte(name), 0) != len(name) || name == "" {
		p.pos = at
		return p.expected("a name of letters, digits and '_' that does not begin with a digit")
	}
	p.addPrim(n, at)
	p.within(n, func() {
		p.lines()
		p.metadata(primPlace)
		if !p.bad {
			p.lines()
			p.contents("\"" + name + "\"")
		}
	})
	n.body = extent{uint32(start), uint32(p.pos)}
	return true
}

// typeName reads a.b or a::b.
func (p *parser) typeName() string {
	first := p.word()
	if strings.HasPrefix(string(p.src[p.pos+len(first):min(p.pos+len(first)+2, len(p.src))]), "::") {
		return p.names("::")
	}
	return p.names(".")
}

// addPrim makes n a child of the prim that is open. A second prim of one name
// is a problem; its statements are added to the first.
func (p *parser) addPrim(n *prim, at int) {
	p.layer.size++
	if twin := p.prim.kid(n.name); twin != nil {
		p.remark(syntax, at, int(n.header.end), "expected a new name, found '%s' a second time under one parent; rename one of the two", n.name)
		return
	}
	p.prim.kids = append(p.prim.kids, n)
	if p.prim.kidNames != nil || len(p.prim.kids) >= 8 {
		if p.prim.kidNames == nil {
			p.prim.kid("") // builds the index
		} else {
			p.prim.kidNames[n.name] = n
		}
	}
}

// within reads with n as the prim that is open.
func (p *parser) within(n *prim, read func()) {
	outer := p.prim
	p.prim = n
	read()
	p.prim = outer
}

// variantSet reads "name" = { "variant" (metadata) { ... } ... }, after its
// first word.
func (p *parser) variantSet() bool {
	p.blank()
	at := p.pos
	name, ok := p.text("the name of the variant set")
	if !ok || !p.variantName(name, at) || !p.want('=', "after the name of the variant set") {
		return false
	}
	p.lines()
	if !p.want('{', "to open the variant set") {
		return false
	}
	open := p.pos - 1
	set := &variantSet{name: name}
	if i := slices.IndexFunc(p.prim.variants, func(v *variantSet) bool { return v.name == name }); i >= 0 {
		set = p.prim.variants[i]
	} else {
		p.prim.variants = append(p.prim.variants, set)
	}
	if !p.enter(open) {
		p.pos = open
		return false
	}
	defer p.leave()
	p.statements(open, '}', "the variant set", func() bool { return p.variant(set) })
	return true
}

// variant reads "name" (metadata) { ... }.
func (p *parser) variant(set *variantSet) bool {
	at := p.pos
	name, ok := p.text("the name of a variant")
	if !ok || !p.variantName(name, at) {
		return false
	}
	n := &prim{parent: p.prim, variant: true, name: name, header: extent{uint32(at), uint32(p.pos)}}
	n.nameAt = n.header
	p.layer.size++
	set.variants = append(set.variants, n)
	p.within(n, func() {
		p.lines()
		p.metadata(primPlace)
		if !p.bad {
			p.lines()
			p.contents("variant \"" + name + "\"")
		}
	})
	n.body = extent{uint32(at), uint32(p.pos)}
	return true
}

// variantName checks the name of a variant or variant set: an optional dot,
// then letters, digits, _ | and -.
func (p *parser) variantName(name string, at int) bool {
	for i, r := range name {
		if !isPart(r) && r != '|' && r != '-' && !(r == '.' && i == 0) {
			p.problem(at, p.pos, "expected a name of letters, digits, '_', '|' and '-' for a variant, found %s", quoted(name))
			return false
		}
	}
	return true
}
