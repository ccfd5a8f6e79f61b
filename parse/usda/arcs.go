package usda

// arcs reads None, one reference or payload, or a list of them.
func (p *parser) arcs(op string, into *listOp, what string, custom bool) {
	p.blank()
	at := p.pos
	var list []arc
	one := func() bool {
		a, ok := p.arc(what, custom)
		if ok {
			list = p.unique(list, a)
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

// arc reads @asset@</prim> (offset = n; scale = n), where the asset or the prim
// may be missing.
func (p *parser) arc(what string, custom bool) (arc, bool) {
	p.blank()
	start := p.pos
	a := arc{owner: p.layer, scale: 1}
	var ok bool
	switch p.peek() {
	case '@':
		if a.asset, ok = p.asset(); !ok {
			return a, false
		}
		if a.asset == "" {
			p.problem(start, p.pos, "expected a file between the @ of this %s; for a prim of this file leave the @ out", what)
			return a, false
		}
		if p.peek() == '<' && !p.arcPath(&a, what) {
			return a, false
		}
	case '<':
		if !p.arcPath(&a, what) {
			return a, false
		}
	default:
		return a, p.expected("a %s: a file between @ and @, or the path of a prim between '<' and '>'", what)
	}
	a.at = extent{uint32(start), uint32(p.pos)}
	if p.peek() == '(' {
		p.arcOptions(&a, custom)
	}
	return a, !p.bad
}

// arcPath reads the prim of a reference; <> is the default prim.
func (p *parser) arcPath(a *arc, what string) bool {
	if p.pos+1 < len(p.src) && p.src[p.pos+1] == '>' {
		p.pos += 2
		return true
	}
	var ok bool
	a.path, ok = p.path(rootedPrimPath, "the path of a prim from the root for this "+what+", without properties and variants")
	return ok
}

// arcOptions reads (offset = n; scale = n; customData = { ... }).
func (p *parser) arcOptions(a *arc, custom bool) {
	open := p.pos
	p.pos++
	p.statements(open, ')', "the options", func() bool {
		switch w := p.word(); {
		case w == "offset" || w == "scale":
			p.pos += len(w)
			if !p.want('=', "after '"+w+"'") {
				return false
			}
			v, _, _, ok := p.plainNumber("a number")
			if ok && w == "offset" {
				a.offset = v
			} else if ok {
				a.scale = v
			}
		case w == "customData" && custom:
			p.pos += len(w)
			if p.want('=', "after '"+w+"'") {
				p.dictionary()
			}
		case custom:
			p.expected("offset, scale or customData")
		default:
			p.expected("offset or scale")
		}
		return false
	})
}

// primPaths reads None, one path, or a list of paths of prims.
func (p *parser) primPaths(op string, into *listOp, what string) {
	p.blank()
	at := p.pos
	var list []arc
	one := func() bool {
		p.blank()
		start := p.pos
		x, ok := p.path(primPath, "the path of the "+what+", without a property")
		if ok && x.absolute && x.prim == "" {
			p.problem(start, p.pos, "expected the path of the %s, found the root", what)
			return false
		}
		if ok {
			list = p.unique(list, arc{owner: p.layer, path: x, scale: 1, at: extent{uint32(start), uint32(p.pos)}})
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

// subLayers reads [@file@ (offset = n; scale = n), ...].
func (p *parser) subLayers(op string) {
	if op != "" {
		p.expected("no list operation: the sublayers are set as a whole")
		return
	}
	if p.peek() != '[' {
		p.expected("a list in brackets '[ ]' for 'subLayers'")
		return
	}
	p.items('[', ']', "list of sublayers", p.pos, func() bool {
		p.blank()
		start := p.pos
		a := arc{owner: p.layer, scale: 1}
		var ok bool
		if a.asset, ok = p.asset(); !ok {
			return false
		}
		if a.asset == "" {
			p.problem(start, p.pos, "expected a file between the @ of this sublayer")
			return false
		}
		a.at = extent{uint32(start), uint32(p.pos)}
		if p.peek() == '(' {
			p.arcOptions(&a, false)
		}
		p.layer.meta.subLayers = append(p.layer.meta.subLayers, a)
		return !p.bad
	}, true)
}

// relocates reads { <from> : <to>, ... }.
func (p *parser) relocates() {
	if p.peek() != '{' {
		p.expected("pairs of paths in braces: { <from> : <to> }")
		return
	}
	at := p.pos
	any := false
	p.items('{', '}', "relocates", p.pos, func() bool {
		any = true
		if _, ok := p.path(primPath, "the path of the prim that moves"); !ok {
			return false
		}
		if !p.want(':', "between the two paths") {
			return false
		}
		if p.peek() == '<' && p.layer != nil && p.pos+1 < len(p.src) && p.src[p.pos+1] == '>' {
			p.pos += 2 // <> deletes
			return true
		}
		_, ok := p.path(primPath, "the path it moves to")
		return ok
	}, true)
	if any && !p.bad {
		p.remark(unsupported, at, p.pos, "relocated prims are studied where they were before; move them in the file to study them where they are now")
	}
}

// substitutions reads { "from": "to", ... }.
func (p *parser) substitutions() {
	if p.peek() != '{' {
		p.expected("pairs of strings in braces: { \"from\": \"to\" }")
		return
	}
	p.items('{', '}', "substitutions", p.pos, func() bool {
		if _, ok := p.text("a string"); !ok || !p.want(':', "between the two strings") {
			return false
		}
		_, ok := p.text("a string")
		return ok
	}, true)
}

// selections reads { string set = "variant" ... }.
func (p *parser) selections() {
	n := p.prim
	if p.peek() != '{' {
		p.expected("variant selections in braces: { string set = \"variant\" }")
		return
	}
	outer := p.visit
	p.visit = nil
	open := p.pos
	p.pos++
	p.statements(open, '}', "the variant selections", func() bool {
		if w := p.word(); w != "string" {
			p.expected("'string', the type of a variant selection")
			return false
		}
		p.visit = func(set, variant string) { n.selections = append(n.selections, selection{set, variant}) }
		p.entry()
		p.visit = nil
		return false
	})
	p.visit = outer
}
