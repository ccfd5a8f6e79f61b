package usda

import (
	"bytes"
	"unicode/utf8"
)

// statements reads statements up to the closing bracket, which it consumes.
// The opening bracket, at offset open, has been read. one reads a statement
// and returns whether it ends by itself, as a block does; what names the block
// in messages. Statements end at a line end or a semicolon.
func (p *parser) statements(open int, closing byte, what string, one func() (block bool)) {
	p.closings = append(p.closings, closing)
	defer func() { p.closings = p.closings[:len(p.closings)-1] }()
	p.lines()
	for p.pos < len(p.src) && p.src[p.pos] != closing {
		start := p.pos
		if p.leftOpen(closing) {
			p.expected("'%c' to close %s opened on line %d", closing, what, p.line(open))
			p.bad = false // what follows is what it would have been
			return
		}
		block := one()
		if p.bad {
			p.recover(start, closing)
		} else if !p.separator(closing, block) {
			p.expected("a line end or ';' after this statement")
			p.recover(start, closing)
		}
		p.lines()
	}
	if p.pos < len(p.src) {
		p.pos++
		return
	}
	p.unclosed(open, closing, what)
}

// leftOpen reports whether what comes next can only mean that the closing
// bracket of this block was forgotten: the closing bracket of a block around
// it, or, in metadata, the block of the prim or another prim.
func (p *parser) leftOpen(closing byte) bool {
	c := p.src[p.pos]
	if closing == ')' {
		switch p.word() {
		case "def", "over", "class":
			return true
		}
		if c == '{' {
			return true
		}
	}
	return c != closing && bytes.IndexByte(p.closings, c) >= 0
}

// separator reads what ends a statement and reports whether it was there. The
// closing bracket ends one too, and is left.
func (p *parser) separator(closing byte, block bool) bool {
	if p.lines() || block {
		return true
	}
	if p.pos >= len(p.src) || p.src[p.pos] == closing {
		return true
	}
	if p.src[p.pos] != ';' {
		return false
	}
	p.pos++
	p.lines()
	return true
}

// unclosed reports a block that runs to the end of the file.
func (p *parser) unclosed(open int, closing byte, what string) {
	p.problem(len(p.src), len(p.src), "expected '%c' to close %s opened on line %d, found the end of the file; the file may have been cut short",
		closing, what, p.line(open))
}

// recover goes to the end of the statement that starts at start and holds a
// problem: past the problem, to the next line end or ';' outside all brackets
// that the statement opens, or to the closing bracket of the block around it.
func (p *parser) recover(start int, closing byte) {
	at := max(p.pos, start+1)
	if at >= len(p.src) {
		p.pos = len(p.src)
		return // one problem tells that the file ends; bad stays set
	}
	p.bad = false
	var open []byte
	i := start
	for i < len(p.src) {
		c := p.src[i]
		switch c {
		case '\n', '\r', ';':
			if len(open) == 0 && i >= at && (c == ';' || beginsStatement(p.src, i+1, closing)) {
				p.pos = i
				if c == ';' {
					p.pos++
				}
				return
			}
			i++
		case '(', '[', '{':
			open = append(open, c)
			i++
		case ')', ']', '}':
			n := matching(open, c)
			if n < 0 && c == closing {
				p.pos = i
				return
			}
			if n >= 0 {
				open = open[:n]
				if n == 0 && c == '}' && i >= at {
					p.pos = i + 1
					return
				}
			}
			i++
		default:
			i = p.skipToken(i)
		}
	}
	p.pos, p.bad = len(p.src), true
}

// beginsStatement reports whether the line at offset i can begin a statement or
// is empty; otherwise it belongs to the line before.
func beginsStatement(src []byte, i int, closing byte) bool {
	for i < len(src) && (src[i] == ' ' || src[i] == '\t') {
		i++
	}
	if i < len(src) && (src[i] == '"' || src[i] == '\'') {
		return closing == ')'
	}
	return i >= len(src) || bytes.IndexByte([]byte("\r\n#/)]}_"), src[i]) >= 0 || src[i] >= utf8.RuneSelf || isStart(rune(src[i]))
}

// matching returns the index in the stack of open brackets that c closes, -1
// if none. Brackets inside it that are still open are taken as forgotten.
func matching(open []byte, c byte) int {
	opening := map[byte]byte{')': '(', ']': '[', '}': '{'}[c]
	for n := len(open) - 1; n >= 0; n-- {
		if open[n] == opening {
			return n
		}
		if open[n] == '{' { // a block is not left by a stray ) or ]
			return -1
		}
	}
	return -1
}

// skipToken returns the end of the string, asset path, comment or other byte
// at offset i. A string that does not close on its line is taken to end there.
func (p *parser) skipToken(i int) int {
	switch p.src[i] {
	case '"', '\'':
		if end, ok := stringEnd(p.src, i); ok {
			return end
		}
	case '@':
		if end, ok := assetEnd(p.src, i); ok {
			return end
		}
	case '#', '/':
		if end, _ := commentEnd(p.src, i); end > i {
			return end
		}
	}
	return i + 1
}
