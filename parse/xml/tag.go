package xmlscan

import (
	"bytes"
	"math"

	"curvelint/parse/scene"
)

// Attr is an attribute: its name as written, prefix included, and the range
// of its value between the quotes.
type Attr struct {
	Name       []byte
	Start, End int
}

// Attrs returns the attributes of the start token returned last, in order. It
// is valid until the next token.
func (r *Reader) Attrs() []Attr { return r.attrs }

// Attr returns the attribute with the given name of the start token returned
// last.
func (r *Reader) Attr(name string) (a Attr, ok bool) {
	for i := range r.attrs {
		if string(r.attrs[i].Name) == name {
			return r.attrs[i], true
		}
	}
	return Attr{}, false
}

// Value returns the value of an attribute with its references resolved.
func (r *Reader) Value(a Attr) string { return r.Unescape(a.Start, a.End) }

// AttrValue returns the value of the attribute with the given name, "" if the
// start token returned last has none.
func (r *Reader) AttrValue(name string) string {
	if a, ok := r.Attr(name); ok {
		return r.Value(a)
	}
	return ""
}

// Span returns the bytes [start, end) as a span of the reader's file.
func (r *Reader) Span(start, end int) scene.Span {
	return scene.Span{File: r.file, Start: uint32(start), End: uint32(end)}
}

// startTag reads the start tag at p. ok is false when there is none, or when
// the element was passed over since it is nested too deep.
func (r *Reader) startTag(p int) (token Token, ok bool) {
	name, nameEnd := p+1, r.nameEnd(p+1)
	if name == nameEnd {
		r.pos = p + 1
		r.problem(scene.Syntax, p, p+1, "expected the name of an element after '<'; write &lt; for the sign itself")
		return Token{}, false
	}
	if len(r.open) == 0 {
		if r.sawRoot {
			r.problem(scene.Syntax, p, nameEnd, "expected the end of the file after the root element, found another one")
		}
		r.sawRoot = true
	}
	selfClosed := r.attributes(p, nameEnd)
	token = Token{Kind: Start, Pos: p, End: r.pos, Name: local(r.src[name:nameEnd])}
	r.open = append(r.open, element{uint32(name), uint32(nameEnd)})
	if selfClosed {
		r.pending, r.closeAt = 1, r.pos
	}
	if len(r.open) > r.maxDepth {
		r.skipDeep(token)
		return Token{}, false
	}
	return token, true
}

// skipDeep passes over an element that is nested too deep. It does not recurse:
// inside it, tags only grow and shrink the list of open elements.
func (r *Reader) skipDeep(token Token) {
	if !r.sawDeep {
		r.sawDeep = true
		r.problem(scene.Unsupported, token.Pos, token.End, "this element is nested %d deep and the limit is %d; it and others as deep are left out", len(r.open), r.maxDepth)
	}
	limit := r.maxDepth
	r.maxDepth = math.MaxInt
	for len(r.open) > limit {
		r.Next()
	}
	r.maxDepth = limit
	r.attrs = r.attrs[:0]
}

// attributes reads attributes from p on to the end of the tag that began at
// tag, sets r.pos behind it, and reports whether the tag ends with "/>".
func (r *Reader) attributes(tag, p int) (selfClosed bool) {
	src := r.src
	r.attrs = r.attrs[:0]
	r.badTag = false
	for {
		for p < len(src) && isSpace(src[p]) {
			p++
		}
		switch {
		case p == len(src):
			r.pos = p
			r.problem(scene.PartialExport, tag, p, "expected '>', found the end of the file inside this tag")
			return false
		case src[p] == '>':
			r.pos = p + 1
			return false
		case src[p] == '/' && p+1 < len(src) && src[p+1] == '>':
			r.pos = p + 2
			return true
		case src[p] == '<':
			r.pos = p
			r.problem(scene.Syntax, tag, p, "expected '>' at the end of this tag, found another tag")
			return false
		}
		p = r.attribute(p)
	}
}

// tagProblem reports the first thing that is wrong with the attributes of a
// tag. What follows a forgotten quote would only confuse.
func (r *Reader) tagProblem(start, end int, message string, args ...any) {
	if !r.badTag {
		r.badTag = true
		r.problem(scene.Syntax, start, end, message, args...)
	}
}

// attribute reads the attribute at p and returns the offset behind it. It
// always moves on.
func (r *Reader) attribute(p int) int {
	src := r.src
	name, end := p, r.nameEnd(p)
	if name == end {
		r.tagProblem(p, p+1, "expected an attribute, '>' or '/>', found %q", src[p])
		return p + 1
	}
	p = end
	for p < len(src) && isSpace(src[p]) {
		p++
	}
	if p == len(src) || src[p] != '=' {
		r.tagProblem(name, end, "expected = and a quoted value after the attribute %.40q", src[name:end])
		return p
	}
	p++
	for p < len(src) && isSpace(src[p]) {
		p++
	}
	if p == len(src) || src[p] != '"' && src[p] != '\'' {
		r.tagProblem(name, end, "expected a quoted value for the attribute %.40q", src[name:end])
		for p < len(src) && !isSpace(src[p]) && src[p] != '>' && src[p] != '<' && src[p] != '/' {
			p++
		}
		return p
	}
	return r.attributeValue(name, end, p)
}

// attributeValue reads the value whose quote stands at p, of the attribute
// with the name [name, nameEnd).
func (r *Reader) attributeValue(name, nameEnd, p int) int {
	n := bytes.IndexByte(r.src[p+1:], r.src[p])
	if n < 0 {
		r.problem(scene.PartialExport, name, p+1, "expected the closing quote of the attribute %.40s, found the end of the file", r.src[name:nameEnd])
		return len(r.src)
	}
	end := p + 1 + n
	if value := r.src[p+1 : end]; bytes.IndexByte(value, '<') >= 0 {
		r.tagProblem(name, p+1, "expected the closing quote of the attribute %.40s before the next tag; write &lt; for the sign itself", r.src[name:nameEnd])
		// A forgotten quote swallows tags up to the next quote.
		if gt := bytes.IndexByte(value, '>'); gt >= 0 {
			return p + 1 + gt
		}
	}
	r.attrs = append(r.attrs, Attr{Name: r.src[name:nameEnd], Start: p + 1, End: end})
	return end + 1
}

// endTag reads the end tag at p.
func (r *Reader) endTag(p int) {
	name, end := p+2, r.nameEnd(p+2)
	q := end
	for q < len(r.src) && isSpace(r.src[q]) {
		q++
	}
	if q < len(r.src) && r.src[q] == '>' {
		r.pos = q + 1
	} else {
		r.pos = q
		kind := scene.Syntax
		if q == len(r.src) {
			kind = scene.PartialExport
		}
		r.problem(kind, p, q, "expected '>' at the end of this tag")
	}
	if r.pos <= p {
		r.pos = p + 1
	}
	r.closeNamed(p, r.src[name:end])
}

// closeLook bounds how many open elements an end tag that does not fit the
// innermost one is compared with, so that a file of such tags costs no more
// than its size.
const closeLook = 64

// closeNamed closes the innermost open element called name, and those inside
// it; tag is where the end tag begins.
func (r *Reader) closeNamed(tag int, name []byte) {
	for i := len(r.open) - 1; i >= 0 && i >= len(r.open)-closeLook; i-- {
		e := r.open[i]
		if !bytes.Equal(r.src[e.name:e.nameEnd], name) {
			continue
		}
		if i < len(r.open)-1 {
			inner := r.open[len(r.open)-1]
			r.problem(scene.Syntax, tag, r.pos, "expected </%.40s>, found </%.40s>", r.src[inner.name:inner.nameEnd], name)
		}
		r.pending, r.closeAt = len(r.open)-i, tag
		return
	}
	if len(r.open) == 0 {
		r.problem(scene.Syntax, tag, r.pos, "found </%.40s>, but no element is open", name)
		return
	}
	inner := r.open[len(r.open)-1]
	r.problem(scene.Syntax, tag, r.pos, "expected </%.40s>, found </%.40s>, which closes nothing and is passed over", r.src[inner.name:inner.nameEnd], name)
}

// nameByte marks the bytes that a name may hold: letters, digits and . - _ :
// of ASCII and everything above it.
var nameByte = func() (t [256]bool) {
	for c := range t {
		t[c] = 'a' <= c && c <= 'z' || 'A' <= c && c <= 'Z' || '0' <= c && c <= '9' ||
			c == '_' || c == ':' || c == '-' || c == '.' || c >= 0x80
	}
	return t
}()

// nameEnd returns the end of the name at p, or p if none begins there.
func (r *Reader) nameEnd(p int) int {
	q := p
	for q < len(r.src) && nameByte[r.src[q]] {
		q++
	}
	if q > p {
		if c := r.src[p]; c == '-' || c == '.' || '0' <= c && c <= '9' {
			return p
		}
	}
	return q
}
