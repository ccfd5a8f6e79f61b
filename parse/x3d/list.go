package x3d

import (
	"encoding/binary"
	"strings"

	"curvelint/parse/text"
)

// list reads a value in brackets at the present place, numbers and strings or
// nodes, and returns where its inside lies.
func (c *classic) list(n *node, t nodeType, name string) (start, end int) {
	open := c.pos
	c.pos++
	if end, ok := plainList(c.src, c.pos); ok {
		c.pos = end + 1
		return open + 1, end
	}
	if c.depth >= c.doc.maxDepth {
		c.doc.syntax(c.doc.span(open, open+1), "lists nest more than %d deep; what is inside is not read", c.doc.maxDepth)
		c.pos = open
		c.block()
		return open, open
	}
	c.depth++
	defer func() { c.depth-- }()
	for {
		b := c.skip()
		switch {
		case c.pos >= len(c.src):
			c.doc.endInside(c.doc.span(open, open+1), "the list "+printable(name)+" of "+n.label())
			return open + 1, c.pos
		case b == ']':
			c.pos++
			return open + 1, c.pos - 1
		case b == '"':
			if !c.text() {
				c.doc.endInside(c.doc.span(open, open+1), "the list "+printable(name)+" of "+n.label())
			}
		case b == '}':
			// The list was never closed; the node is.
			c.unclosed(n, name)
			return open + 1, c.pos
		case startsName(b) && !isConstant(c.word()):
			if end := c.pos; c.nextField(n, t) {
				c.unclosed(n, name)
				return open + 1, end
			}
			if !c.statement(n, name) {
				// Not a node either: the numbers' reader judges it.
				c.pos += len(c.word())
			}
		case class[b]&ending != 0:
			c.unexpected("a value or ']'")
		default:
			c.pos += len(c.word())
		}
	}
}

// plainList returns the end of a list that begins at start and holds nothing
// but numbers, as nearly all long lists do.
func plainList(src []byte, start int) (end int, ok bool) {
	for start < len(src) && class[src[start]]&blank != 0 {
		start++
	}
	if start == len(src) || startsName(src[start]) {
		return 0, false
	}
	for i := start; i < len(src); i++ {
		for i+8 <= len(src) && isNumbers(binary.LittleEndian.Uint64(src[i:])) {
			i += 8
		}
		if i < len(src) && class[src[i]]&special != 0 {
			return i, src[i] == ']'
		}
	}
	return 0, false
}

// isNumbers reports whether eight bytes are none of those that may end a list
// of numbers: neither brackets, which like letters have 0x40 set, nor '"' nor
// '#', which differ in the lowest bit.
func isNumbers(x uint64) bool {
	const low, high = 0x0101010101010101, 0x8080808080808080
	y := x&^low ^ low*'"'
	return x&(low*0x40) == 0 && (y-low)&^y&high == 0
}

// nextField reports whether the word at the present place, inside a list, is
// the next field of the node rather than a value: one that the type has, or
// one that a list follows.
func (c *classic) nextField(n *node, t nodeType) bool {
	w := c.word()
	if t.keeps(string(w)) {
		return true
	}
	ahead := lexer{src: c.src, pos: c.pos + len(w)}
	return ahead.skip() == '[' && n.kind != script
}

// unclosed reports a list that lacks its bracket.
func (c *classic) unclosed(n *node, name string) {
	c.fault(n.head, true, "expected ']' at the end of the list %s of %s", text.Quote([]byte(name)), n.label())
}

// route reads ROUTE a.b TO c.d.
func (c *classic) route() {
	start := c.pos
	c.pos += len("ROUTE")
	from, _ := c.name()
	to, at := c.name()
	if to == "TO" {
		to, at = c.name()
	} else {
		at.End = at.Start
		to = ""
	}
	r := route{at: c.doc.span(start, c.pos)}
	if splitRoute(from, &r.from, &r.fromField) && splitRoute(to, &r.to, &r.toField) {
		c.doc.addRoute(r)
		return
	}
	if at.Empty() {
		c.pos = int(at.Start)
	}
	c.fault(r.at, false, "expected ROUTE node.field TO node.field")
}

// splitRoute cuts an end of a route at its last point: DEF names written by
// exporters may hold points of their own.
func splitRoute(s string, node, field *string) bool {
	i := strings.LastIndexByte(s, '.')
	if i <= 0 || i == len(s)-1 {
		return false
	}
	*node, *field = s[:i], s[i+1:]
	return true
}

// proto skips the declaration of a prototype and remembers its name.
func (c *classic) proto() {
	c.pos += len("PROTO")
	name, at := c.name()
	c.doc.protos[name] = true
	for _, open := range []byte("[{") {
		if c.skip() != open {
			c.fault(at, true, "expected '%c' in the prototype %s", open, text.Quote([]byte(name)))
			return
		}
		if !c.block() {
			c.doc.endInside(at, "the prototype "+printable(name))
		}
	}
}

// externProto skips the declaration of a prototype that another file holds.
func (c *classic) externProto() {
	c.pos += len("EXTERNPROTO")
	name, at := c.name()
	c.doc.protos[name] = true
	closed := c.skip() != '[' || c.block()
	switch c.skip() {
	case '[':
		closed = c.block() && closed
	case '"':
		closed = c.text() && closed
	}
	if !closed {
		c.doc.endInside(at, "the prototype "+printable(name))
	}
}
