package x3d

import (
	"bytes"
	"unicode/utf8"

	"curvelint/parse/scene"
	"curvelint/parse/text"
)

// lexer finds the words and brackets of Classic VRML text.
type lexer struct {
	src []byte
	pos int
	// onComment, if not nil, is given each comment, without its mark.
	onComment func(start, end int)
}

// Classes of bytes in Classic VRML.
const (
	blank   = 1 << iota // white space, and the comma, which counts as such
	ending              // ends a word
	special             // cannot stand in a list of numbers
)

var class = makeClasses()

func makeClasses() (c [256]uint8) {
	for _, b := range " \t\r\n," {
		c[b] = blank | ending
	}
	for b := range 0x20 {
		c[b] |= ending
	}
	for _, b := range "\"#'[]{}\\\x7F" {
		c[b] |= ending
	}
	for _, b := range "\"#[]{}" {
		c[b] |= special
	}
	return c
}

// skip goes on to the next byte that is neither white space nor comment and
// returns it, 0 at the end of the text.
func (l *lexer) skip() byte {
	for l.pos < len(l.src) {
		c := l.src[l.pos]
		if class[c]&blank != 0 {
			l.pos++
			continue
		}
		if c != '#' {
			return c
		}
		start := l.pos + 1
		l.pos = lineEnd(l.src, l.pos)
		if l.onComment != nil {
			l.onComment(start, l.pos)
		}
	}
	return 0
}

// lineEnd returns the offset of the end of the line that holds offset i.
func lineEnd(src []byte, i int) int {
	for i < len(src) && src[i] != '\n' && src[i] != '\r' {
		i++
	}
	return i
}

// word returns the word at the present place, without moving: a run of bytes
// up to white space, brackets, braces or quotes.
func (l *lexer) word() []byte {
	i := l.pos
	for i < len(l.src) && class[l.src[i]]&ending == 0 {
		i++
	}
	return l.src[l.pos:i]
}

// name reads a word and returns it with its span; it is empty when the next
// thing is none.
func (l *lexer) name() (string, scene.Span) {
	l.skip()
	w := l.word()
	start := l.pos
	l.pos += len(w)
	return string(w), scene.Span{Start: uint32(start), End: uint32(l.pos)}
}

// startsName reports whether a word beginning with c is a name and no number.
func startsName(c byte) bool {
	return class[c]&ending == 0 && (c < '0' || c > '9') && c != '+' && c != '-' && c != '.' && c != 0
}

// text skips the string at the present place and returns whether it was
// closed.
func (l *lexer) text() bool {
	for i := l.pos + 1; i < len(l.src); {
		n := bytes.IndexByte(l.src[i:], '"')
		if n < 0 {
			break
		}
		end := i + n
		escapes := 0
		for end-1-escapes > l.pos && l.src[end-1-escapes] == '\\' {
			escapes++
		}
		i = end + 1
		if escapes%2 == 0 {
			l.pos = i
			return true
		}
	}
	l.pos = len(l.src)
	return false
}

// block skips from the opening bracket or brace at the present place to
// behind the one that closes it, and returns whether there was one.
func (l *lexer) block() bool {
	depth := 0
	for {
		c := l.skip()
		switch c {
		case 0:
			if l.pos >= len(l.src) {
				return false
			}
			l.pos++
		case '"':
			if !l.text() {
				return false
			}
		case '[', '{':
			depth++
			l.pos++
		case ']', '}':
			l.pos++
			if depth--; depth <= 0 {
				return true
			}
		default:
			l.pos += max(1, len(l.word()))
		}
	}
}

// found words what stands at the present place, for messages.
func (l *lexer) found() (string, scene.Span) {
	c := l.skip()
	start := l.pos
	if start >= len(l.src) {
		return "the end of the file", scene.Span{Start: uint32(start), End: uint32(start)}
	}
	w := l.word()
	if len(w) == 0 {
		_, n := utf8.DecodeRune(l.src[start:])
		w = l.src[start : start+n]
	}
	at := scene.Span{Start: uint32(start), End: uint32(start + len(w))}
	if c == '"' {
		return "a string", at
	}
	return text.Quote(w), at
}
