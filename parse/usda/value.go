package usda

import (
	"bytes"
	"math"
	"strings"

	"curvelint/parse/text"
)

// numbers collects the numbers of values as they are read, row by row.
type numbers struct {
	vals  []float64
	spans []uint32
	// decimals[c] is how finely the numbers of column c are printed at most;
	// columns are counted from rowStart.
	decimals []int8
	rowStart int
	whole    bool // one span for each tuple instead of each number
	odd      bool // a number was not finite since this was last cleared
}

// add appends a number that is written at offset at.
func (n *numbers) add(v float64, at, decimals int) {
	col := len(n.vals) - n.rowStart
	n.vals = append(n.vals, v)
	if !n.whole {
		n.spans = append(n.spans, uint32(at))
	}
	if math.IsInf(v, 0) || math.IsNaN(v) {
		n.odd = true
		return
	}
	for col >= len(n.decimals) {
		n.decimals = append(n.decimals, math.MinInt8)
	}
	if decimals > int(n.decimals[col]) {
		n.decimals[col] = int8(min(decimals, math.MaxInt8))
	}
}

// value reads one value of type t, without None.
func (p *parser) value(t valueType) bool {
	if t.base == anything {
		return p.anyValue()
	}
	if t.base == nothing {
		return p.expected("no value, as the type %s has none", t.name)
	}
	if t.array {
		if p.peek() != '[' {
			return p.expected("a list in brackets '[ ]' for the type %s", t.title())
		}
		return p.list(func() bool { return p.element(t) })
	}
	if p.peek() == '[' && t.base != dictionary {
		return p.expected("a single value for the type %s (a list needs %s[])", t.name, t.name)
	}
	return p.element(t)
}

// list reads [a, b, ...] with elements read by one, which may nest.
func (p *parser) list(one func() bool) bool {
	open := p.pos
	return p.items('[', ']', "list", open, func() bool {
		if p.peek() == '[' {
			return p.list(one)
		}
		return one()
	}, true)
}

// items reads opening, items separated by commas, closing. Line ends may
// follow the opening bracket and commas, and precede the closing one; a comma
// may follow the last item.
func (p *parser) items(opening, closing byte, what string, open int, one func() bool, mayBeEmpty bool) bool {
	if !p.enter(open) {
		return false
	}
	defer p.leave()
	p.pos++
	p.lines()
	if mayBeEmpty && p.peek() == closing {
		p.pos++
		return true
	}
	for {
		if !one() {
			return false
		}
		ended := p.lines()
		switch c := p.peek(); {
		case c == closing:
			p.pos++
			return true
		case c == ',' && !ended:
			p.pos++
			p.lines()
			if p.peek() == closing {
				p.pos++
				return true
			}
		case p.pos >= len(p.src):
			return p.expected("'%c' to close the %s opened on line %d", closing, what, p.line(open))
		case ended && c == ',':
			return p.expected("the comma of this %s at the end of the line before, or '%c'", what, closing)
		default:
			return p.expected("',' or '%c' in this %s", closing, what)
		}
	}
}

// enter counts the nesting of brackets and refuses more than the limit.
func (p *parser) enter(at int) bool {
	p.depth++
	if p.depth <= p.maxDepth {
		return true
	}
	p.problem(at, at+1, "expected at most %d brackets within each other; what is nested deeper is skipped", p.maxDepth)
	p.depth--
	return false
}

func (p *parser) leave() { p.depth-- }

// element reads one element of type t: a number, a word or a tuple.
func (p *parser) element(t valueType) bool {
	if t.rows == 0 {
		return p.scalar(t)
	}
	if p.peek() != '(' {
		return p.expected("%s for the type %s", tupleTitle(t), t.name)
	}
	if p.values != nil && p.values.whole {
		p.values.spans = append(p.values.spans, uint32(p.pos))
	}
	if t.cols == 0 {
		return p.tuple(t, t.rows, func() bool { return p.number(t) })
	}
	return p.tuple(t, t.rows, func() bool {
		if p.peek() != '(' {
			return p.expected("a row of %d numbers in parentheses for the type %s", t.cols, t.name)
		}
		return p.tuple(t, t.cols, func() bool { return p.number(t) })
	})
}

func tupleTitle(t valueType) string {
	shape := strings.TrimSuffix(strings.Repeat("n, ", t.rows), ", ")
	if t.cols > 0 {
		return "rows of numbers ((...), (...)) in parentheses"
	}
	return "(" + shape + ")"
}

// tuple reads (a, b, ...) with exactly n items.
func (p *parser) tuple(t valueType, n int, one func() bool) bool {
	open := p.pos
	count := 0
	ok := p.items('(', ')', "tuple", open, func() bool {
		if count++; count > n {
			return p.expected("')' after %d numbers for the type %s", n, t.name)
		}
		return one()
	}, false)
	if ok && count < n {
		p.pos--
		return p.expected("%d numbers for the type %s, not %d", n, t.name, count)
	}
	return ok
}

// scalar reads a single number, word, string or asset path.
func (p *parser) scalar(t valueType) bool {
	switch t.base {
	case real, integer:
		return p.number(t)
	case boolean:
		return p.boolean()
	case str, tok:
		if t.nameOK && p.word() != "" {
			p.names(":")
			return true
		}
		if p.peek() == '<' && t.base == str {
			_, ok := p.bracketed()
			return ok
		}
		_, ok := p.text("a " + t.name)
		return ok
	case assetPath:
		if c := p.peek(); c == '"' || c == '\'' {
			_, ok := p.text("an asset path")
			return ok
		}
		_, ok := p.asset()
		return ok
	case dictionary:
		return p.dictionary()
	}
	return p.anyValue()
}

// number reads one number of type t.
func (p *parser) number(t valueType) bool {
	v, start, decimals, ok := p.plainNumber("a number")
	if !ok {
		return false
	}
	if t.base == integer && (!(v >= t.min && v <= t.max) || math.Abs(v) >= 1<<63 && !t.holds(p.src[start:p.pos])) {
		p.pos = start
		return p.expected("a whole number from %.0f to %.0f for the type %s", t.min, t.max, t.name)
	}
	if p.values != nil {
		p.values.add(v, start, decimals)
	}
	return true
}

// plainNumber reads a number as the grammar writes it: no plus sign, and inf,
// -inf and nan in lower case.
func (p *parser) plainNumber(what string) (v float64, start, decimals int, ok bool) {
	p.blank()
	start = p.pos
	rest := p.src[start:]
	word := bytes.TrimPrefix(rest, []byte("-"))
	switch {
	case len(word) == 0 || word[0] != '.' && (word[0] < '0' || word[0] > '9'):
		n := identifierEnd(word, 0)
		if w := string(word[:n]); w != "inf" && (w != "nan" || len(word) < len(rest)) {
			return 0, start, 0, p.expected("%s", what)
		}
	}
	v, end, decimals, ok := text.FloatStep(p.src, start)
	if !ok {
		return 0, start, 0, p.expected("%s", what)
	}
	p.pos = end
	return v, start, decimals, true
}

// boolean reads true or false: a word, the same in quotes, or a number.
func (p *parser) boolean() bool {
	word, start := "", p.pos
	switch c := p.peek(); {
	case c == '"' || c == '\'':
		var ok bool
		if word, ok = p.text("true or false"); !ok {
			return false
		}
	case p.word() != "":
		word = p.names(":")
	default:
		_, _, _, ok := p.plainNumber("true or false")
		return ok
	}
	switch strings.ToLower(word) {
	case "true", "false", "yes", "no", "0", "1":
		return true
	}
	p.pos = start
	p.blank()
	return p.expected("true or false")
}
