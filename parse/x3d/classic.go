package x3d

import (
	"bytes"
	"strings"

	"curvelint/parse/scene"
	"curvelint/parse/text"
)

// classic reads Classic VRML text (ISO/IEC 19776-2) and VRML97.
type classic struct {
	lexer
	doc   *document
	depth int
}

// readClassic fills the document from Classic VRML text.
func readClassic(d *document) {
	c := &classic{lexer: lexer{src: d.src, onComment: d.comment}, doc: d}
	c.header()
	c.statements()
}

// header checks the first line.
func (c *classic) header() {
	if bytes.HasPrefix(c.src, []byte("\uFEFF")) {
		c.pos = len("\uFEFF")
	}
	first := c.src[c.pos:lineEnd(c.src, c.pos)]
	at := c.doc.span(c.pos, c.pos+len(first))
	switch {
	case bytes.HasPrefix(first, []byte("#VRML V2.0")), bytes.HasPrefix(first, []byte("#X3D V")):
	case bytes.HasPrefix(first, []byte("#VRML V1")):
		c.doc.syntax(at, "this is VRML 1.0, which has no animation; export VRML97 (#VRML V2.0 utf8) or X3D")
		c.pos = len(c.src)
	default:
		c.doc.syntax(at, "expected #VRML V2.0 utf8 or #X3D V3.3 utf8 as the first line; add it")
	}
}

// statements reads the nodes, routes and prototypes of a file.
func (c *classic) statements() {
	for {
		b := c.skip()
		if c.pos >= len(c.src) {
			return
		}
		if !startsName(b) || !c.statement(nil, "children") {
			c.unexpected("a node, ROUTE or PROTO")
		}
	}
}

// unexpected reports what stands at the present place and skips it.
func (c *classic) unexpected(want string) {
	what, at := c.found()
	c.doc.syntax(at, "expected %s, found %s", want, what)
	switch c.skip() {
	case '[', '{':
		c.block()
	case '"':
		c.text()
	default:
		c.pos = min(len(c.src), max(int(at.End), c.pos+1))
		c.atoms()
	}
}

// fault reports what is wrong at a span: an early end of the file when that
// is reached, else a fault of the text. found is put behind the message.
func (c *classic) fault(at scene.Span, found bool, message string, args ...any) {
	if c.skip(); c.pos >= len(c.src) {
		if !c.doc.ended {
			c.doc.ended = true
			c.doc.problems.Add(scene.PartialExport, at, message+", found the end of the file", args...)
		}
		return
	}
	if found {
		what, place := c.found()
		at, message = place, message+", found "+strings.ReplaceAll(what, "%", "%%")
	}
	c.doc.syntax(at, message, args...)
}

// statement reads one statement that begins with a word; it returns false,
// with the word unread, when that is none.
func (c *classic) statement(parent *node, hung string) bool {
	switch w := c.word(); string(w) {
	case "ROUTE":
		c.route()
	case "PROTO":
		c.proto()
	case "EXTERNPROTO":
		c.externProto()
	case "PROFILE", "EXPORT", "IMPORT", "COMPONENT", "META", "UNIT":
		c.declaration(string(w))
	case "NULL":
		c.pos += len("NULL")
	default:
		return c.node(parent, hung)
	}
	return true
}

// declaration reads the statements of X3D that stand before the nodes. Of them
// only units matter.
func (c *classic) declaration(word string) {
	start := c.pos
	c.pos += len(word)
	switch word {
	case "UNIT":
		category, _ := c.name()
		c.name()
		c.skip()
		factor, end, ok := text.Float(c.src, c.pos)
		c.pos = max(c.pos, end)
		c.doc.unit(category, factor, ok, c.doc.span(start, c.pos))
	case "META":
		for range 2 {
			if c.skip() == '"' {
				c.text()
			}
		}
	case "IMPORT", "EXPORT":
		name, _ := c.name()
		c.skip()
		if string(c.word()) == "AS" {
			c.name()
			name, _ = c.name()
		}
		if word == "IMPORT" {
			c.doc.imports[name[strings.LastIndexByte(name, '.')+1:]] = true
		}
	default:
		c.name()
	}
}

// node reads a node statement: [DEF name] Type { ... } or USE name. It returns
// false, having read nothing, when there is none.
func (c *classic) node(parent *node, hung string) bool {
	start := c.pos
	w, at := c.name()
	if w == "USE" {
		name, nameAt := c.name()
		if name == "" {
			c.fault(at, true, "expected the name of a node behind USE")
			return true
		}
		c.doc.addUse(parent, hung, name, c.doc.span(start, c.pos), nameAt)
		return true
	}
	def, nameAt := "", at
	if w == "DEF" {
		def, nameAt = c.name()
		if w, _ = c.name(); def == "" || w == "" {
			c.fault(at, true, "expected a name and a type of node behind DEF")
			return true
		}
	}
	headEnd := c.pos
	if c.skip() != '{' {
		c.pos = start
		if def == "" {
			return false
		}
		c.pos = headEnd
		c.fault(nameAt, true, "expected '{' after %s %s", printable(w), printable(def))
		return true
	}
	n, t := c.doc.begin(parent, hung, w, def)
	n.head, n.name = c.doc.span(start, headEnd), nameAt
	c.body(n, t, start)
	c.doc.finish(n)
	return true
}

// body reads the fields of a node between braces; c stands at the opening one.
func (c *classic) body(n *node, t nodeType, start int) {
	open := c.pos
	defer func() { n.body = c.doc.span(start, c.pos) }()
	if c.depth >= c.doc.maxDepth {
		c.doc.syntax(c.doc.span(open, open+1), "nodes nest more than %d deep; what is inside is not read", c.doc.maxDepth)
		c.block()
		return
	}
	c.pos++
	c.depth++
	defer func() { c.depth-- }()
	for {
		b := c.skip()
		switch {
		case c.pos >= len(c.src):
			c.doc.endInside(n.head, n.label())
			return
		case b == '}':
			c.pos++
			return
		case startsName(b):
			c.element(n, t)
		default:
			c.unexpected("a field of " + n.label() + " or '}'")
		}
	}
}

// element reads one element of a node's body: a field with its value, a route,
// a prototype or the declaration of a field.
func (c *classic) element(n *node, t nodeType) {
	w := c.word()
	switch string(w) {
	case "ROUTE":
		c.route()
		return
	case "PROTO":
		c.proto()
		return
	case "EXTERNPROTO":
		c.externProto()
		return
	case "eventIn", "eventOut", "inputOnly", "outputOnly":
		c.pos += len(w)
		c.name()
		c.name()
		c.is()
		return
	case "field", "exposedField", "initializeOnly", "inputOutput":
		c.pos += len(w)
		c.name()
	}
	name, at := c.name()
	if !c.is() && !c.value(n, t, name) {
		c.fault(at, false, "expected %s of %s to have a value, found none", text.Quote([]byte(name)), n.label())
	}
}

// is skips IS and the name behind it, which ties a field to a prototype's.
func (c *classic) is() bool {
	c.skip()
	if string(c.word()) != "IS" {
		return false
	}
	c.pos += len("IS")
	c.name()
	return true
}

// value reads the value of a field; it returns false when there is none.
func (c *classic) value(n *node, t nodeType, name string) bool {
	b := c.skip()
	start := c.pos
	switch {
	case c.pos >= len(c.src) || b == '}' || b == ']' || b == '{':
		return false
	case b == '[':
		start, end := c.list(n, t, name)
		n.keep(t, name, start, end)
	case startsName(b) && !isConstant(c.word()):
		return c.node(n, name)
	default:
		end := c.atoms()
		if end == start {
			return false
		}
		n.keep(t, name, start, end)
	}
	return true
}

// keep stores a field that the type needs. A field given twice keeps its last
// value.
func (n *node) keep(t nodeType, name string, start, end int) {
	if !t.keeps(name) {
		return
	}
	f := field{name, uint32(start), uint32(end)}
	for i := range n.fields {
		if n.fields[i].name == name {
			n.fields[i] = f
			return
		}
	}
	n.fields = append(n.fields, f)
}

func isConstant(w []byte) bool {
	switch string(w) {
	case "TRUE", "FALSE", "true", "false", "NULL", "nan", "NaN", "inf", "Infinity":
		return true
	}
	return false
}

// atoms skips a run of numbers, strings and constants and returns its end.
func (c *classic) atoms() int {
	end := c.pos
	for {
		b := c.skip()
		switch {
		case b == '"':
			if start := c.pos; !c.text() {
				c.doc.endInside(c.doc.span(start, start+1), "a string")
			}
		case class[b]&ending == 0 && (!startsName(b) || isConstant(c.word())):
			c.pos += len(c.word())
		default:
			return end
		}
		end = c.pos
	}
}
