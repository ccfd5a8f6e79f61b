package xmlscan

import (
	"bytes"
	"strings"

	"curvelint/parse/scene"
)

// prolog passes over a byte-order mark and takes the encoding from the XML
// declaration.
func (r *Reader) prolog() {
	if bytes.HasPrefix(r.src, []byte("\uFEFF")) {
		r.pos = len("\uFEFF")
	}
	rest := r.src[r.pos:]
	if !bytes.HasPrefix(rest, []byte("<?xml")) {
		return
	}
	end := bytes.Index(rest, []byte("?>"))
	if end < 0 {
		return // reported when the instruction is read
	}
	switch strings.ToLower(pseudoAttr(rest[:end], "encoding")) {
	case "iso-8859-1", "iso8859-1", "latin1", "latin-1", "windows-1252", "cp1252":
		r.latin1 = true
	}
}

// pseudoAttr returns the quoted value that follows name in an XML declaration.
func pseudoAttr(declaration []byte, name string) string {
	_, rest, found := bytes.Cut(declaration, []byte(name))
	if !found {
		return ""
	}
	rest = bytes.TrimLeft(rest, "= \t\r\n")
	if len(rest) == 0 || rest[0] != '"' && rest[0] != '\'' {
		return ""
	}
	value, _, found := bytes.Cut(rest[1:], rest[:1])
	if !found {
		return ""
	}
	return string(value)
}

// doctype passes over the declaration at p and returns the offset behind it:
// a document type with its internal subset, in which quotes and comments may
// hold any bracket.
func (r *Reader) doctype(p int) int {
	inSubset := false
	for i := p + 2; i < len(r.src); {
		switch c := r.src[i]; {
		case c == '"' || c == '\'':
			n := bytes.IndexByte(r.src[i+1:], c)
			if n < 0 {
				return r.through(p, len(r.src), ">", "a declaration")
			}
			i += n + 1
		case c == '[':
			inSubset = true
		case c == ']':
			inSubset = false
		case c == '>' && !inSubset:
			return i + 1
		case bytes.HasPrefix(r.src[i:], []byte("<!--")):
			i = r.through(i, i+4, "-->", "a comment") - 1
		case bytes.HasPrefix(r.src[i:], []byte("<!ENTITY")):
			r.entityDeclared(i)
		case bytes.HasPrefix(r.src[i:], []byte("<?")):
			i = r.through(i, i+2, "?>", "a processing instruction") - 1
		}
		i++
	}
	return r.through(p, len(r.src), ">", "a declaration")
}

// entityDeclared reports the first entity that a file declares.
func (r *Reader) entityDeclared(p int) {
	if !r.sawEntity {
		r.sawEntity = true
		r.problem(scene.Unsupported, p, p+len("<!ENTITY"), "entities that a file declares are not expanded; what they stand for is left out")
	}
}
