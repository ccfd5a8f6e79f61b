package gltf

import (
	"bytes"
	"errors"
	"io"
	"math"
	"strconv"

	"github.com/go-json-experiment/json/jsontext"

	"curvelint/parse/scene"
)

// reader walks a JSON text whose shape it is told. What has another shape than
// expected is a problem at its place and is passed over; a text that is no
// JSON ends the walk where it goes wrong.
type reader struct {
	src      []byte
	base     int // offset of the JSON text in the file, behind a byte-order mark
	d        *jsontext.Decoder
	problems *scene.Problems
	failed   bool
}

func newReader(src []byte, problems *scene.Problems) *reader {
	r := &reader{src: src, problems: problems}
	if bytes.HasPrefix(src, []byte("\uFEFF")) {
		r.base = len("\uFEFF")
	}
	// The decoder reads a bytes.Buffer in place.
	r.d = jsontext.NewDecoder(bytes.NewBuffer(src[r.base:]),
		jsontext.AllowDuplicateNames(true), jsontext.AllowInvalidUTF8(true))
	return r
}

// start returns where the next value starts.
func (r *reader) start() int {
	i := r.base + int(r.d.InputOffset())
	for i < len(r.src) {
		switch r.src[i] {
		case ' ', '\t', '\r', '\n', ',', ':':
			i++
		default:
			return i
		}
	}
	return i
}

// pos returns the offset behind the last value.
func (r *reader) pos() int { return r.base + int(r.d.InputOffset()) }

// fail reports that the text is no JSON, once.
func (r *reader) fail(err error) {
	if r.failed {
		return
	}
	r.failed = true
	at := len(r.src)
	if errors.Is(err, io.ErrUnexpectedEOF) || err == io.EOF {
		r.problems.Add(scene.PartialExport, span(at, at), "the file ends inside the JSON text; what comes before is used; export it again")
		return
	}
	reason := err.Error()
	var syntax *jsontext.SyntacticError
	if errors.As(err, &syntax) {
		at = min(r.base+int(syntax.ByteOffset), len(r.src))
		reason = syntax.Err.Error()
	}
	r.problems.Add(scene.Syntax, span(at, min(at+1, len(r.src))), "this is no valid JSON: %s; what comes before is used", plain(reason))
}

// kind returns the kind of the next value, 0 when there is none.
func (r *reader) kind() jsontext.Kind {
	if r.failed {
		return 0
	}
	k := r.d.PeekKind()
	if k == jsontext.KindInvalid {
		_, err := r.d.ReadToken()
		r.fail(err)
		return 0
	}
	return k
}

// skip passes over the next value.
func (r *reader) skip() {
	if r.kind() == 0 {
		return
	}
	if err := r.d.SkipValue(); err != nil {
		r.fail(err)
	}
}

// expected reports that the next value is not what was expected, and passes
// over it.
func (r *reader) expected(what string) {
	k := r.kind()
	if k == 0 {
		return
	}
	start := r.start()
	r.skip()
	end := r.pos()
	if k == '{' || k == '[' {
		end = start + 1
	}
	r.problems.Add(scene.Syntax, span(start, max(end, start)), "expected %s, found %s", what, kindName(k))
}

func kindName(k jsontext.Kind) string {
	switch k {
	case 'n':
		return "null"
	case 'f', 't':
		return "a truth value"
	case '"':
		return "a string"
	case '0':
		return "a number"
	case '{':
		return "an object"
	}
	return "an array"
}

// object calls member for each member of the next value, an object, with its
// name and where the name stands between its quotes. What member does not read
// is passed over. It returns the place of the object.
func (r *reader) object(member func(name string, at scene.Span)) scene.Span {
	if r.kind() != '{' {
		r.expected("an object")
		return span(r.pos(), r.pos())
	}
	start := r.start()
	r.token()
	for k := r.kind(); k != '}' && k != 0; k = r.kind() {
		nameStart := r.start()
		name := r.text()
		nameEnd := r.pos()
		before := r.pos()
		member(name, span(nameStart+1, max(nameEnd-1, nameStart+1)))
		if !r.failed && r.pos() == before {
			r.skip()
		}
	}
	r.token()
	return span(start, r.pos())
}

// array calls element for each element of the next value, an array. What
// element does not read is passed over.
func (r *reader) array(element func(i int)) {
	if r.kind() != '[' {
		r.expected("an array")
		return
	}
	r.token()
	i := 0
	for k := r.kind(); k != ']' && k != 0; k = r.kind() {
		before := r.pos()
		element(i)
		if !r.failed && r.pos() == before {
			r.skip()
		}
		i++
	}
	r.token()
}

// token passes over a bracket.
func (r *reader) token() {
	if r.failed {
		return
	}
	if _, err := r.d.ReadToken(); err != nil {
		r.fail(err)
	}
}

// raw passes over the next value and returns its place.
func (r *reader) raw() scene.Span {
	start := r.start()
	r.skip()
	if r.failed {
		return span(start, start)
	}
	return span(start, r.pos())
}

// text reads a string and unescapes it; what is no string gives "".
func (r *reader) text() string {
	if r.kind() != '"' {
		r.expected("a string")
		return ""
	}
	at := r.raw()
	if at.Empty() {
		return ""
	}
	raw := r.src[at.Start:at.End]
	if bytes.IndexByte(raw, '\\') < 0 {
		return valid(raw[1 : len(raw)-1])
	}
	text, err := jsontext.AppendUnquote(nil, raw)
	if err != nil && text == nil {
		return ""
	}
	return valid(text)
}

// stringAt reads a string and returns it with the place of its text.
func (r *reader) stringAt() (string, scene.Span) {
	start := r.start()
	s := r.text()
	return s, span(min(start+1, len(r.src)), max(r.pos()-1, min(start+1, len(r.src))))
}

// number reads a finite number; ok is false, with a problem, for anything else.
func (r *reader) number(what string) (v float64, ok bool) {
	if r.kind() != '0' {
		r.expected(what)
		return 0, false
	}
	at := r.raw()
	v, err := strconv.ParseFloat(string(r.src[at.Start:at.End]), 64)
	if r.failed {
		return 0, false
	}
	if err != nil {
		r.problems.Add(scene.Syntax, at, "expected %s, found a number out of range", what)
		return 0, false
	}
	return v, true
}

// index reads a whole number from 0 on; -1 with a problem for anything else.
func (r *reader) index(what string) int {
	start := r.start()
	v, ok := r.number(what)
	if !ok {
		return -1
	}
	if v < 0 || v != math.Trunc(v) || v > 1<<53 {
		r.problems.Add(scene.Syntax, span(start, r.pos()), "expected %s, found %s", what, quote(string(r.src[start:r.pos()])))
		return -1
	}
	return int(v)
}

// indices reads an array of whole numbers, each with its place.
func (r *reader) indices(what string) (list []int, places []scene.Span) {
	r.array(func(int) {
		start := r.start()
		if v := r.index(what); v >= 0 {
			list, places = append(list, v), append(places, span(start, r.pos()))
		}
	})
	return list, places
}

// numbers reads an array of n numbers (any count if n is 0); nil with a
// problem for anything else.
func (r *reader) numbers(n int) []float64 {
	start := r.start()
	var list []float64
	good := true
	r.array(func(int) {
		v, ok := r.number("a number")
		good = good && ok
		if n == 0 || len(list) < n+1 {
			list = append(list, v)
		}
	})
	if r.failed || !good {
		return nil
	}
	if n > 0 && len(list) != n {
		found := strconv.Itoa(len(list))
		if len(list) > n {
			found = "more"
		}
		r.problems.Add(scene.Syntax, span(start, r.pos()), "expected an array of %d numbers, found %s", n, found)
		return nil
	}
	return list
}

// truth reads true or false.
func (r *reader) truth() bool {
	switch r.kind() {
	case 't':
		r.token()
		return true
	case 'f':
		r.token()
	default:
		r.expected("true or false")
	}
	return false
}
