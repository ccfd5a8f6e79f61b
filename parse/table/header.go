package table

import (
	"bytes"
	"strings"

	"curvelint/parse/scene"
	"curvelint/parse/text"
)

// role is what a column drives in its part.
type role uint8

const (
	free      role = iota // a number that moves nothing
	translate             // tx ty tz
	rotate                // rx ry rz
	scale                 // sx sy sz
	world                 // wx wy wz
	picture               // u v
	ignored               // read over
)

// column is one cell of every row after the first.
type column struct {
	role role
	axis int8
	part scene.PartID
	name string     // the channel, as written
	cell scene.Span // in the header
	// at is the column's place in the grid, -1 when it is read over.
	at int32
}

// channelOf says what a channel's name means.
func channelOf(name string) (role, int8) {
	name = strings.ToLower(name)
	switch name {
	case "u":
		return picture, 0
	case "v":
		return picture, 1
	}
	if len(name) != 2 {
		return free, 0
	}
	r := map[byte]role{'t': translate, 'r': rotate, 's': scale, 'w': world}[name[0]]
	axis := strings.IndexByte("xyz", name[1])
	if axis < 0 {
		return free, 0
	}
	return r, int8(axis)
}

// header reads the comments and the header, and returns false when there is no
// table to read.
func (p *parser) header() bool {
	if bytes.HasPrefix(p.src, []byte("\uFEFF")) {
		p.i = len("\uFEFF")
	}
	p.comments()
	start := p.i
	end := lineStop(p.src, start)
	p.separator = separatorOf(p.src[start:end])
	first := cellAt(p.src, start, p.separator)
	switch strings.ToLower(first.text(p.src)) {
	case "frame":
	case "time":
		p.inSeconds = true
	default:
		p.syntax(span(first.start, first.end), "expected frame or time as the first column of the header, found %s; nothing is read", quote(p.src[first.start:first.end]))
		return false
	}
	p.i = first.next
	cells := bytes.Count(p.src[start:end], []byte{p.separator})
	p.columns = make([]column, 0, cells)
	for p.i < len(p.src) && p.src[p.i] == p.separator {
		c := cellAt(p.src, p.i+1, p.separator)
		p.i = c.next
		p.declare(c)
	}
	for _, c := range p.columns {
		if c.role != ignored {
			return true
		}
	}
	if len(p.problems.List()) == 0 {
		p.syntax(span(first.start, first.end), "expected columns like head.tx behind %s in the header, found none", first.text(p.src))
	}
	return false
}

// separatorOf returns the first of tab, comma and semicolon in a header,
// outside quotes.
func separatorOf(line []byte) byte {
	quoted := false
	for _, c := range line {
		switch c {
		case '"':
			quoted = !quoted
		case '\t', ',', ';':
			if !quoted {
				return c
			}
		}
	}
	return ','
}

// lineStop returns the offset of the line end at or behind i.
func lineStop(src []byte, i int) int {
	n := bytes.IndexByte(src[i:], '\n')
	if n < 0 {
		n = len(src) - i
	}
	if cr := bytes.IndexByte(src[i:i+n], '\r'); cr >= 0 {
		n = cr
	}
	return i + n
}

// comments reads the blank lines and comments before the header.
func (p *parser) comments() {
	for p.i < len(p.src) {
		end := lineStop(p.src, p.i)
		line := bytes.Trim(p.src[p.i:end], "\" \t,;")
		if len(line) > 0 && line[0] != '#' {
			return
		}
		if len(line) > 0 {
			p.setting(p.i+bytes.Index(p.src[p.i:end], line), string(line))
		}
		if p.i = end; end < len(p.src) {
			p.i++
		}
	}
}

// setting reads a comment that starts at an offset; only "# key = value" with
// a known key means anything.
func (p *parser) setting(start int, line string) {
	key, value, found := strings.Cut(line, "=")
	if !found {
		return
	}
	at := start + len(key) + 1
	at += len(value) - len(strings.TrimLeft(value, " \t\""))
	value = strings.Trim(value, " \t\"")
	switch strings.TrimSpace(strings.TrimLeft(key, "# \t")) {
	case "rotation_order":
		p.rotationOrder(at, value)
	case "aspect":
		v, end, ok := text.Float([]byte(value), 0)
		if !ok || end != len(value) || !(v > 0) || v > 1e6 {
			p.syntax(span(at, at+len(value)), "expected the picture's width over its height, such as 1.85, found %s", quote([]byte(value)))
			return
		}
		p.aspect = v
	}
}

// rotationOrder reads three different axes.
func (p *parser) rotationOrder(at int, value string) {
	var order [3]int
	seen := 0
	for i := 0; i < len(value) && len(value) == 3; i++ {
		axis := strings.IndexByte("xyz", value[i]|0x20)
		if axis < 0 {
			break
		}
		order[i] = axis
		seen |= 1 << axis
	}
	if seen != 7 {
		p.syntax(span(at, at+len(value)), "expected a rotation order such as XYZ or ZXY, found %s; XYZ is taken", quote([]byte(value)))
		return
	}
	p.order = order
}
