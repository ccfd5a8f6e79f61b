package usda

import (
	"bytes"
	"fmt"
	"unicode"
	"unicode/utf8"

	"curvelint/parse/scene"
)

// defaultMaxDepth is the deepest nesting of prims and values that is followed
// when the options name no other.
const defaultMaxDepth = 256

// extent is a range of bytes in the file that a parser reads.
type extent struct{ start, end uint32 }

// parser reads one text. It never moves backwards over what it has accepted,
// except in recovery, which starts again at the beginning of a statement.
type parser struct {
	src      []byte
	pos      int
	file     scene.FileID
	maxDepth int
	depth    int

	problems scene.Problems
	layer    *layer
	prim     *prim // the innermost prim whose block is open
	// bad is set by the first problem inside a statement; until recovery, the
	// problems that follow from it are not reported.
	bad bool
	// values collects the numbers of a value that is being read, or is nil.
	values   *numbers
	closings []byte // of the blocks of statements that are open
	// visit, unless nil, is shown the string entries of dictionaries.
	visit   func(key, value string)
	sampler *sampler
	jobs    *jobs
}

// where returns a span of this file.
func (p *parser) where(start, end int) scene.Span {
	return scene.Span{File: p.file, Start: uint32(start), End: uint32(end)}
}

// problem reports a problem over [start, end), unless the statement has one.
func (p *parser) problem(start, end int, format string, args ...any) {
	if p.bad {
		return
	}
	p.bad = true
	if p.problems.Full() {
		p.problems.Count(1)
		return
	}
	p.problems.Add(scene.Syntax, p.where(start, end), format, args...)
}

// expected reports that something else was expected at the current place.
// It always returns false, so that a reader can return it.
func (p *parser) expected(format string, args ...any) bool {
	if !p.bad {
		end := p.tokenEnd(p.pos)
		p.problem(p.pos, end, "expected %s, found %s", fmt.Sprintf(format, args...), p.found())
	}
	return false
}

// remark reports a problem of meaning: it does not end the statement.
func (p *parser) remark(kind scene.ProblemKind, start, end int, format string, args ...any) {
	p.problems.Add(kind, p.where(start, end), format, args...)
}

// found describes the token at the current place.
func (p *parser) found() string {
	if p.pos >= len(p.src) {
		return "the end of the file"
	}
	if c := p.src[p.pos]; c == '\n' || c == '\r' {
		return "the end of the line"
	}
	end := p.tokenEnd(p.pos)
	token := p.src[p.pos:end]
	if len(token) > 40 {
		token = append(append([]byte(nil), token[:37]...), "..."...)
	}
	return fmt.Sprintf("'%s'", bytes.ToValidUTF8(token, []byte("\uFFFD")))
}

// tokenEnd returns the end of the word, number or single sign at offset i.
func (p *parser) tokenEnd(i int) int {
	start := i
	for i < len(p.src) {
		r, n := utf8.DecodeRune(p.src[i:])
		if r != '_' && !unicode.IsLetter(r) && !unicode.IsDigit(r) && !(i > start && (r == '.' || r == ':')) {
			if i == start && r != '\n' && r != '\r' {
				i += n
			}
			break
		}
		i += n
	}
	return i
}

// blank skips what may stand between two tokens on a line: spaces, tabs and
// comments.
func (p *parser) blank() {
	for p.pos < len(p.src) {
		switch p.src[p.pos] {
		case ' ', '\t':
			p.pos++
		case '#', '/':
			if !p.comment() {
				return
			}
		default:
			return
		}
	}
}

// comment skips a comment and notes an allowance in it. It returns false when
// none starts here.
func (p *parser) comment() bool {
	start := p.pos
	end, closed := commentEnd(p.src, start)
	if end == start {
		return false
	}
	if !closed {
		p.problem(start, start+2, "expected '*/' to close this comment before the end of the file")
	}
	p.pos = end
	p.allowance(start, end)
	return true
}

// commentEnd returns the end of the comment at offset i, i if none: the end of
// the line after # or //, or what follows */ after /*.
func commentEnd(src []byte, i int) (end int, closed bool) {
	rest := src[i:]
	switch {
	case rest[0] == '#' || bytes.HasPrefix(rest, []byte("//")):
		if n := bytes.IndexAny(rest, "\r\n"); n >= 0 {
			return i + n, true
		}
		return len(src), true
	case bytes.HasPrefix(rest, []byte("/*")):
		if n := bytes.Index(rest[2:], []byte("*/")); n >= 0 {
			return i + n + 4, true
		}
		return len(src), false
	}
	return i, true
}

// lines skips blanks and line ends, and reports whether there was a line end.
func (p *parser) lines() bool {
	ended := false
	for {
		p.blank()
		if p.pos >= len(p.src) || p.src[p.pos] != '\n' && p.src[p.pos] != '\r' {
			return ended
		}
		p.pos++
		ended = true
	}
}

// peek returns the next byte that is no blank, 0 at the end of the file.
func (p *parser) peek() byte {
	if p.pos < len(p.src) {
		if c := p.src[p.pos]; c != ' ' && c != '\t' && c != '#' && c != '/' {
			return c
		}
	}
	p.blank()
	if p.pos >= len(p.src) {
		return 0
	}
	return p.src[p.pos]
}

// eat skips blanks and the byte c if it comes next.
func (p *parser) eat(c byte) bool {
	if p.peek() == c && p.pos < len(p.src) {
		p.pos++
		return true
	}
	return false
}

// want is eat that reports a missing byte.
func (p *parser) want(c byte, what string) bool {
	return p.eat(c) || p.expected("'%c' %s", c, what)
}

// isStart and isPart say which characters identifiers begin with and hold:
// those of Unicode's XID classes, and the underscore.
func isStart(r rune) bool {
	if r < utf8.RuneSelf {
		return 'a' <= r|0x20 && r|0x20 <= 'z' || r == '_'
	}
	return unicode.IsLetter(r) || unicode.In(r, unicode.Nl, unicode.Other_ID_Start)
}

func isPart(r rune) bool {
	if r < utf8.RuneSelf {
		return isStart(r) || '0' <= r && r <= '9'
	}
	return isStart(r) || unicode.In(r, unicode.Mn, unicode.Mc, unicode.Nd, unicode.Pc, unicode.Other_ID_Continue)
}

// identifierEnd returns the end of the identifier at offset i, i if none.
func identifierEnd(src []byte, i int) int {
	start := i
	for i < len(src) {
		r, n := rune(src[i]), 1
		if r >= utf8.RuneSelf {
			if r, n = utf8.DecodeRune(src[i:]); r == utf8.RuneError && n <= 1 {
				break
			}
		}
		if i == start && !isStart(r) || !isPart(r) {
			break
		}
		i += n
	}
	return i
}

// word returns the identifier that comes next without reading it, "" if none.
func (p *parser) word() string {
	p.blank()
	return string(p.src[p.pos:identifierEnd(p.src, p.pos)])
}

// keyword reads the word w if it comes next.
func (p *parser) keyword(w string) bool {
	p.blank()
	end := identifierEnd(p.src, p.pos)
	if string(p.src[p.pos:end]) != w {
		return false
	}
	p.pos = end
	return true
}

// names reads identifiers joined by sep ("::", ".", ":"), and returns the
// whole, "" if there is none.
func (p *parser) names(sep string) string {
	p.blank()
	start := p.pos
	end := identifierEnd(p.src, start)
	for end > start && bytes.HasPrefix(p.src[end:], []byte(sep)) {
		next := identifierEnd(p.src, end+len(sep))
		if next == end+len(sep) {
			break
		}
		end = next
	}
	p.pos = end
	return string(p.src[start:end])
}

// line returns the 1-based number of the line that offset i lies on.
func (p *parser) line(i int) int {
	n := 1
	for _, c := range p.src[:i] {
		if c == '\n' {
			n++
		}
	}
	return n
}
