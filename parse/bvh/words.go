package bvh

import (
	"bytes"
	"strings"

	"curvelint/parse/scene"
	"curvelint/parse/text"
)

// The classes of bytes.
const (
	blank   = 1 << iota // between words on a line
	lineEnd             // between lines
	brace
)

var class = [256]uint8{
	' ': blank, '\t': blank, ',': blank,
	'\n': lineEnd, '\r': lineEnd,
	'{': brace, '}': brace,
}

// skip returns the offset of the first byte at or behind i that is in none of
// the classes.
func skip(src []byte, i int, classes uint8) int {
	for i < len(src) && class[src[i]]&classes != 0 {
		i++
	}
	return i
}

// until returns the offset of the first byte at or behind i that is in one of
// the classes, the end of src if there is none.
func until(src []byte, i int, classes uint8) int {
	for i < len(src) && class[src[i]]&classes == 0 {
		i++
	}
	return i
}

// skipWord returns the offset behind the word that starts at i.
func skipWord(src []byte, i int) int { return until(src, i, blank|lineEnd|brace) }

// next returns the next word of the header without going past it: a brace or a
// run of other bytes; start == end at the end of the file.
func (p *parser) next() (start, end int) {
	start = skip(p.src, p.i, blank|lineEnd)
	if start < len(p.src) && class[p.src[start]] == brace {
		return start, start + 1
	}
	return start, skipWord(p.src, start)
}

// is reports whether the word at [start, end) is the keyword, in any case.
func (p *parser) is(start, end int, keyword string) bool {
	return end-start == len(keyword) && strings.EqualFold(string(p.src[start:end]), keyword)
}

// found quotes the word at [start, end) for a message.
func (p *parser) found(start, end int) string {
	return quote(p.src[start:end])
}

// quote words what was found for a message.
func quote(b []byte) string {
	if len(b) == 0 {
		return "the end of the file"
	}
	return text.Quote(b)
}

// number reads the next word of the header as a finite number. When it is
// none, it reports so, naming what the number is for, and stays before it.
func (p *parser) number(what string) (v, step float64, ok bool) {
	start, end := p.next()
	v, stop, decimals, ok := text.FloatStep(p.src, start)
	switch {
	case !ok || stop != end:
		p.syntax(span(start, end), "expected a number for %s, found %s", what, p.found(start, end))
		if ok || start < end && !p.keyword(start, end) {
			p.i = end
		}
		return 0, 0, false
	case v-v != 0:
		p.syntax(span(start, end), "expected a finite number for %s, found %s", what, p.found(start, end))
		p.i = end
		return 0, 0, false
	}
	p.i = end
	return v, text.Step(decimals), true
}

// keyword reports whether a word is one that begins a statement.
func (p *parser) keyword(start, end int) bool {
	if start < end && class[p.src[start]] == brace {
		return true
	}
	switch strings.ToUpper(string(p.src[start:min(end, start+16)])) {
	case "HIERARCHY", "ROOT", "JOINT", "END", "ENDSITE", "OFFSET", "CHANNELS", "MOTION", "FRAMES:", "FRAMES", "FRAME":
		return true
	}
	return false
}

// name reads the rest of the line up to a brace as a name, which may hold
// spaces, and returns its span, empty when there is none.
func (p *parser) name() scene.Span {
	start := skip(p.src, p.i, blank)
	end := until(p.src, start, lineEnd|brace)
	p.i = end
	return span(start, start+len(bytes.TrimRight(p.src[start:end], " \t,")))
}
