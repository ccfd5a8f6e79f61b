package usda

import (
	"bytes"
	"strings"
)

// pathForm says which paths a place allows.
type pathForm uint8

const (
	anyPath        pathForm = iota
	primPath                // of a prim: may be relative
	rootedPrimPath          // of a prim, from the root, without variants
	targetPath              // of a prim or property: without variants
)

// path is a scene path as written, split at its property.
type path struct {
	text     string
	absolute bool
	prim     string // elements joined by /, without a leading /; may begin with ..
	property string // with what follows it; "" for a prim path
	variants bool   // holds {set=selection}
}

// bracketed reads <path> and returns what is between the brackets.
func (p *parser) bracketed() (string, bool) {
	if p.peek() != '<' {
		return "", p.expected("a path between '<' and '>'")
	}
	start := p.pos
	n := bytes.IndexAny(p.src[start:], ">\r\n")
	if n < 0 || p.src[start+n] != '>' {
		p.problem(start, start+1, "expected a closing '>' on this line for the path")
		return "", false
	}
	p.pos = start + n + 1
	return string(p.src[start+1 : start+n]), true
}

// path reads <path> of the form that the place allows.
func (p *parser) path(form pathForm, what string) (path, bool) {
	p.blank()
	start := p.pos
	s, ok := p.bracketed()
	if !ok {
		return path{}, false
	}
	parsed, bad := parsePath(s)
	if bad < 0 {
		bad = misfit(parsed, form)
	}
	if bad >= 0 {
		p.problem(start+1+bad, p.pos-1, "expected %s, found '<%s>'", what, s)
		return path{}, false
	}
	return parsed, true
}

// misfit returns the offset in the path of what the form does not allow, -1 if
// all is well.
func misfit(x path, form pathForm) int {
	brace := strings.IndexByte(x.text, '{')
	switch {
	case form == anyPath:
	case form != targetPath && x.property != "":
		return len(x.text) - len(x.property) - 1
	case form == rootedPrimPath && !x.absolute, x.prim == "" && x.absolute:
		return 0
	case form != primPath && brace >= 0:
		return brace
	case form == targetPath && strings.HasSuffix(x.property, "]"):
		return strings.IndexByte(x.text, '[')
	}
	return -1
}

// parsePath reads a scene path: prim names joined by /, with {set=selection}
// after a prim, .property, and [target] after a property; relative paths may
// begin with any number of ../ or be a single dot. It returns the offset of
// the first byte that does not belong there, -1 if none.
func parsePath(s string) (x path, bad int) {
	x = path{text: s}
	if s == "" {
		return x, 0
	}
	i := 0
	switch {
	case s == ".":
		return x, -1
	case s[0] == '/':
		x.absolute = true
		i = 1
		if len(s) == 1 {
			return x, -1
		}
	default:
		for strings.HasPrefix(s[i:], "..") {
			i += 2
			if i == len(s) {
				x.prim = s
				return x, -1
			}
			if s[i] != '/' {
				break
			}
			i++
		}
	}
	start := i
	i, bad = primElements(s, i, &x)
	x.prim = s[:i]
	if x.absolute {
		x.prim = s[1:i]
	}
	if bad >= 0 || i == len(s) {
		return x, bad
	}
	if s[i] != '.' || x.absolute && i == start {
		return x, i
	}
	x.property = s[i+1:]
	x.prim = strings.TrimSuffix(x.prim, "/")
	return x, propertyElements(s, i+1)
}

// primElements reads prim names and variant selections from offset i, up to
// the end or to a dot.
func primElements(s string, i int, x *path) (end, bad int) {
	if i < len(s) && s[i] == '.' {
		return i, -1
	}
	for {
		n := identifierEnd([]byte(s), i)
		if n == i {
			return i, i
		}
		i = n
		for i < len(s) && s[i] == '{' {
			n := strings.IndexByte(s[i:], '}')
			if n < 0 || !strings.Contains(s[i:i+n], "=") {
				return i, i
			}
			x.variants = true
			i += n + 1
			if n = identifierEnd([]byte(s), i); n > i {
				i = n // a child of the variant needs no /
			}
		}
		if i == len(s) || s[i] == '.' {
			return i, -1
		}
		if s[i] != '/' {
			return i, i
		}
		i++
	}
}

// propertyElements reads a property name and what may follow it: [target] and
// .attribute, .mapper or .expression.
func propertyElements(s string, i int) (bad int) {
	for {
		n := len(namespaced(s[i:]))
		if n == 0 {
			return i
		}
		if i += n; i == len(s) {
			return -1
		}
		if s[i] != '[' {
			return i
		}
		n = strings.IndexByte(s[i:], ']')
		if n < 0 {
			return i
		}
		if _, bad := parsePath(s[i+1 : i+n]); bad >= 0 {
			return i + 1 + bad
		}
		if i += n + 1; i == len(s) {
			return -1
		}
		if s[i] != '.' {
			return i
		}
		i++
	}
}

// namespaced returns the identifiers joined by colons that s begins with.
func namespaced(s string) string {
	q := parser{src: []byte(s)}
	if s == "" || identifierEnd(q.src, 0) == 0 {
		return ""
	}
	return q.names(":")
}

// resolve returns the absolute path of prim x, seen from the prim at the
// absolute path base, "" when it climbs above the root.
func (x path) resolve(base string) string {
	if x.absolute {
		return "/" + x.prim
	}
	rest := x.prim
	for strings.HasPrefix(rest, "..") {
		n := strings.LastIndexByte(base, '/')
		if n < 0 {
			return ""
		}
		base = base[:n]
		rest = strings.TrimPrefix(rest[2:], "/")
	}
	if rest == "" {
		return base
	}
	return base + "/" + rest
}
