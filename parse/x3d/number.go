package x3d

import (
	"bytes"
	"math"

	"curvelint/parse/scene"
	"curvelint/parse/text"
)

// numbers reads the numbers of a field, one after the other.
type numbers struct {
	src      []byte
	pos, end int
	problems *scene.Problems
	what     string // what the numbers are, for messages
}

func (d *document) numbers(f field, problems *scene.Problems, what string) numbers {
	return numbers{src: d.src[:f.end], pos: int(f.start), end: int(f.end), problems: problems, what: what}
}

// next reads the next number and returns its decimals and the offset of its
// first byte; ok is false at the end. What is no number counts as one that is
// not finite.
func (r *numbers) next() (v float64, decimals, at int, ok bool) {
	src := r.src
	at = r.pos
	for at < len(src) && class[src[at]]&blank != 0 {
		at++
	}
	v, end, decimals, ok := text.FloatStep(src, at)
	if !ok || end < len(src) && class[src[end]]&blank == 0 {
		r.pos = at
		return r.odd()
	}
	r.pos = end
	if !isFinite(v) {
		r.problems.Add(scene.Syntax, span(at, end), "expected a finite number in %s, found %s; the key is left out", r.what, text.Quote(src[at:end]))
	}
	return v, decimals, at, true
}

// four reads four numbers and returns the offset of the first.
func (r *numbers) four(printed *precision) (v [4]float64, first int, ok bool) {
	for j := range v {
		x, decimals, at, ok := r.next()
		if !ok {
			return v, first, false
		}
		printed.add(x, decimals)
		if j == 0 {
			first = at
		}
		v[j] = x
	}
	return v, first, true
}

// isFinite reports whether v is a number of the format, whose numbers are of
// single precision: what is larger than those hold counts as infinite.
func isFinite(v float64) bool {
	const bias, largest = 1023, 127
	return math.Float64bits(v)>>52&0x7FF <= bias+largest
}

// odd reads on where next found no plain number: comments and references to
// white space lie between numbers, everything else is in the place of one.
func (r *numbers) odd() (v float64, decimals, at int, ok bool) {
	for r.pos < len(r.src) {
		c := r.src[r.pos]
		switch {
		case class[c]&blank != 0:
			r.pos++
		case c == '#':
			r.pos = lineEnd(r.src, r.pos)
		case c == '&' && referenceToBlank(r.src[r.pos:]) > 0:
			r.pos += referenceToBlank(r.src[r.pos:])
		default:
			return r.word()
		}
	}
	return 0, 0, r.pos, false
}

// word reads the run of bytes at the present place, which may yet begin with
// a number.
func (r *numbers) word() (v float64, decimals, at int, ok bool) {
	at = r.pos
	end := at + 1
	for end < len(r.src) && class[r.src[end]]&ending == 0 && r.src[end] != '&' {
		end++
	}
	r.pos = end
	v, numberEnd, decimals, ok := text.FloatStep(r.src, at)
	if ok && numberEnd == end && isFinite(v) {
		return v, decimals, at, true
	}
	r.problems.Add(scene.Syntax, span(at, end), "expected a number in %s, found %s; the key is left out", r.what, text.Quote(r.src[at:end]))
	return math.NaN(), 0, at, true
}

// referenceToBlank returns the length of the XML character reference to a
// space, tab or line end that b begins with, 0 if there is none.
func referenceToBlank(b []byte) int {
	for _, ref := range []string{"&#10;", "&#xA;", "&#xa;", "&#13;", "&#xD;", "&#xd;", "&#9;", "&#x9;", "&#32;", "&#x20;"} {
		if bytes.HasPrefix(b, []byte(ref)) {
			return len(ref)
		}
	}
	return 0
}

func span(start, end int) scene.Span {
	return scene.Span{Start: uint32(start), End: uint32(end)}
}

// vector reads a field of exactly len(dst) numbers. When the field is missing
// or spoilt, dst keeps what it holds.
func (d *document) vector(n *node, name string, dst []float64) (written bool) {
	f, ok := n.find(name)
	if !ok {
		return false
	}
	var faults scene.Problems
	r := d.numbers(f, &faults, name+" of "+n.label())
	var values [4]float64
	got := 0
	for {
		v, _, at, ok := r.next()
		if !ok {
			break
		}
		if got == len(dst) {
			d.syntax(span(at, int(f.end)), "expected %s in %s, found more; the first of them are used", count(len(dst)), r.what)
			break
		}
		if !isFinite(v) {
			d.syntax(span(at, r.pos), "expected %s, none infinite, in %s; the value is left out", count(len(dst)), r.what)
			return false
		}
		values[got] = v
		got++
	}
	if got < len(dst) {
		d.syntax(span(int(f.start), int(f.end)), "expected %s in %s, found %d; the value is left out", count(len(dst)), r.what, got)
		return false
	}
	copy(dst, values[:])
	return true
}

// count words a number of numbers.
func count(n int) string {
	return [...]string{"nothing", "one number", "two numbers", "three numbers", "four numbers"}[n]
}

// number reads a field of one number, fallback if it is missing or spoilt.
func (d *document) number(n *node, name string, fallback float64) float64 {
	v := []float64{fallback}
	d.vector(n, name, v)
	return v[0]
}

// isTrue reads a field of one Boolean.
func (d *document) isTrue(n *node, name string) bool {
	f, ok := n.find(name)
	return ok && bytes.EqualFold(bytes.TrimSpace(d.src[f.start:f.end]), []byte("true"))
}

// text reads a string field without its quotes.
func (d *document) text(n *node, name string) string {
	f, ok := n.find(name)
	if !ok {
		return ""
	}
	return string(bytes.Trim(d.src[f.start:f.end], " \t\r\n\""))
}
