package usda

// anyValue reads a value whose type is not known: a number, a word, a string,
// an asset path, a path, a tuple, a list or a dictionary.
func (p *parser) anyValue() bool {
	switch c := p.peek(); {
	case c == '"' || c == '\'':
		_, ok := p.text("a string")
		return ok
	case c == '@':
		_, ok := p.asset()
		return ok
	case c == '<':
		_, ok := p.bracketed()
		return ok
	case c == '{':
		return p.dictionary()
	case c == '[':
		return p.list(p.innerValue)
	case c == '(':
		return p.items('(', ')', "tuple", p.pos, p.innerValue, false)
	case p.word() != "":
		p.names(":")
		return true
	}
	_, _, _, ok := p.plainNumber("a value")
	return ok
}

// innerValue reads what may stand in an untyped tuple or list.
func (p *parser) innerValue() bool {
	if c := p.peek(); c == '<' || c == '{' {
		return p.expected("a number, a word, a string, an asset path, a tuple or a list")
	}
	return p.anyValue()
}

// dictionary reads { type name = value ... }.
func (p *parser) dictionary() bool {
	if p.peek() != '{' {
		return p.expected("a dictionary in braces '{ }'")
	}
	open := p.pos
	if !p.enter(open) {
		return false
	}
	defer p.leave()
	p.pos++
	p.statements(open, '}', "the dictionary", func() bool {
		p.entry()
		return false
	})
	return !p.bad
}

// entry reads one entry of a dictionary. Strings are passed to p.visit.
func (p *parser) entry() {
	p.blank()
	at := p.pos
	name := p.names("::")
	if name == "" {
		p.expected("the type of a dictionary entry, as in: string name = \"value\"")
		return
	}
	if name == "dictionary" {
		if p.key() != "" && p.want('=', "after the name of a dictionary entry") {
			p.dictionary()
		}
		return
	}
	if p.eat('[') {
		if !p.want(']', "after '['") {
			return
		}
		name += "[]"
	}
	t := typeNamed(name)
	if t.base == anything || t.base == nothing {
		p.problem(at, at+len(t.name), "expected the type of a dictionary entry, as in: string name = \"value\", found '%s'", t.name)
		return
	}
	key := p.key()
	if key == "" || !p.want('=', "after the name of a dictionary entry") {
		return
	}
	p.blank()
	start := p.pos
	if p.value(t) && p.visit != nil && t.name == "string" && !t.array {
		p.visit(key, stringValue(p.src[start:p.pos]))
	}
}

// key reads the name of a dictionary entry: a word or a string.
func (p *parser) key() string {
	if c := p.peek(); c == '"' || c == '\'' {
		start := p.pos
		key, ok := p.text("a name")
		if ok && key == "" {
			p.problem(start, p.pos, "expected a name for this dictionary entry, found an empty string")
		}
		return key
	}
	name := p.word()
	if name == "" {
		p.expected("the name of a dictionary entry")
		return ""
	}
	p.pos += len(name)
	return name
}

// stringValue returns what the string literal b says.
func stringValue(b []byte) string {
	q := parser{src: b}
	if len(b) == 0 || b[0] != '"' && b[0] != '\'' {
		return string(b)
	}
	s, _ := q.text("")
	return s
}
