package usda

import (
	"bytes"
	"strings"
	"unicode/utf8"

	"curvelint/parse/text"
)

// stringEnd returns the offset behind the string at offset i, and false when
// it is not closed: on its line, or, with triple quotes, before the end of
// the file.
func stringEnd(src []byte, i int) (end int, ok bool) {
	quote := src[i]
	triple := i+2 < len(src) && src[i+1] == quote && src[i+2] == quote
	if triple {
		i += 3
	} else {
		i++
	}
	for i < len(src) {
		switch c := src[i]; {
		case c == '\\' && i+1 < len(src) && (triple || src[i+1] != '\n' && src[i+1] != '\r'):
			i += 2
			continue
		case c == quote && !triple:
			return i + 1, true
		case c == quote && i+2 < len(src) && src[i+1] == quote && src[i+2] == quote:
			return i + 3, true
		case !triple && (c == '\n' || c == '\r'):
			return i, false
		}
		i++
	}
	return len(src), false
}

// text reads a string in single, double or triple quotes and returns what it
// says.
func (p *parser) text(what string) (string, bool) {
	c := p.peek()
	if c != '"' && c != '\'' {
		return "", p.expected("%s in quotes", what)
	}
	start := p.pos
	end, ok := stringEnd(p.src, start)
	if !ok {
		p.problem(start, end, "expected a closing %s for this string", p.quoteAt(start))
		p.pos = end
		return "", false
	}
	p.pos = end
	n := len(p.quoteAt(start))
	return unescape(p.src[start+n : end-n]), true
}

// quoted quotes what a string of the file says for a message: escaped and cut.
func quoted(s string) string {
	q := text.Quote([]byte(s))
	return "'" + q[1:len(q)-1] + "'"
}

// quoteAt returns the quote that opens the string at offset i.
func (p *parser) quoteAt(i int) string {
	q := string(p.src[i])
	if bytes.HasPrefix(p.src[i:], []byte(q+q+q)) {
		return q + q + q
	}
	return q
}

// unescape replaces backslash escapes: n t r a b f v, octal and x
// hexadecimal; any other character stands for itself.
func unescape(b []byte) string {
	if bytes.IndexByte(b, '\\') < 0 {
		return string(b)
	}
	var out strings.Builder
	for i := 0; i < len(b); i++ {
		if b[i] != '\\' || i+1 == len(b) {
			out.WriteByte(b[i])
			continue
		}
		i++
		if k := strings.IndexByte("abfnrtv", b[i]); k >= 0 {
			out.WriteByte("\a\b\f\n\r\t\v"[k])
		} else if v, n := escapedNumber(b[i:]); n > 0 {
			out.WriteByte(v)
			i += n - 1
		} else {
			out.WriteByte(b[i])
		}
	}
	return out.String()
}

// escapedNumber reads up to three octal digits, or x and up to two
// hexadecimal ones, and returns how many bytes it took.
func escapedNumber(b []byte) (v byte, n int) {
	const digits = "0123456789abcdef"
	base, most := 8, 3
	if b[0] == 'x' {
		base, most, n = 16, 3, 1
	}
	start := n
	for n < len(b) && n < most {
		d := strings.IndexByte(digits[:base], b[n]|0x20)
		if b[n] < 'A' {
			d = strings.IndexByte(digits[:base], b[n])
		}
		if d < 0 {
			break
		}
		v = v*byte(base) + byte(d)
		n++
	}
	if n == start {
		return 0, 0
	}
	return v, n
}

// assetEnd returns the offset behind the asset path at offset i: @...@ on one
// line, or @@@...@@@, in which \@@@ stands for three @; a few @ may stand
// before the closing three.
func assetEnd(src []byte, i int) (end int, ok bool) {
	triple := bytes.HasPrefix(src[i:], []byte("@@@"))
	if !triple {
		for j := i + 1; j < len(src) && src[j] != '\n' && src[j] != '\r'; j++ {
			if src[j] == '@' {
				return j + 1, true
			}
		}
		return i + 1, false
	}
	for j := i + 3; j < len(src) && src[j] != '\n' && src[j] != '\r'; j++ {
		if src[j] == '\\' && bytes.HasPrefix(src[j+1:], []byte("@@@")) {
			j += 3
			continue
		}
		if !bytes.HasPrefix(src[j:], []byte("@@@")) {
			continue
		}
		j += 3
		for k := 0; k < 2 && j < len(src) && src[j] == '@'; k++ {
			j++
		}
		return j, true
	}
	return i + 3, false
}

// asset reads an asset path.
func (p *parser) asset() (string, bool) {
	if p.peek() != '@' {
		return "", p.expected("an asset path between @ and @")
	}
	start := p.pos
	end, ok := assetEnd(p.src, start)
	if !ok {
		return "", p.expected("a closing '%s' on this line for the asset path", p.src[start:end])
	}
	p.pos = end
	if end-start >= 6 && bytes.HasPrefix(p.src[start:], []byte("@@@")) {
		return strings.ReplaceAll(string(p.src[start+3:end-3]), `\@@@`, "@@@"), true
	}
	return string(p.src[start+1 : end-1]), true
}

// validUTF8 returns the offset of the first byte that is no UTF-8, -1 if none.
func validUTF8(src []byte) int {
	if utf8.Valid(src) {
		return -1
	}
	for i := 0; i < len(src); {
		r, n := utf8.DecodeRune(src[i:])
		if r == utf8.RuneError && n <= 1 {
			return i
		}
		i += n
	}
	return -1
}
