package collada

import (
	"strconv"

	"curvelint/parse/scene"
	"curvelint/parse/xml"
)

// array is an array element: where its text is, and its numbers once they are
// read.
type array struct {
	text      []textRange
	count     int // what it claims, -1 when it does not say
	countSpan scene.Span
	span      scene.Span // the start tag
	names     bool       // words, not numbers

	numbers *numbers
}

// source is a source element: an array seen through an accessor.
type source struct {
	id    string
	span  scene.Span // the start tag
	own   *array     // the array inside it
	array ref        // what the accessor names
	// count is -1 when the accessor does not say.
	count, offset, stride int
	countSpan             scene.Span
	hasAccessor           bool
	params                []param
	at                    []int // see components
	names                 []string

	columns map[int]column // columns cut so far
}

// param is one parameter of an accessor: so many numbers wide, with a name if
// it is to be used.
type param struct {
	name  string
	width int
}

// arrayKinds are the array elements; true for those that hold words.
var arrayKinds = map[string]bool{
	"float_array": false, "int_array": false, "bool_array": true, "Name_array": true,
	"IDREF_array": true, "SIDREF_array": true, "token_array": true,
}

// source reads a source element.
func (p *parser) source(t xmlscan.Token) *source {
	s := &source{id: p.r.AttrValue("id"), span: span(t.Pos, t.End), count: -1, stride: 1}
	register(p, p.sources, s.id, s, s.span)
	p.children(func(t xmlscan.Token) {
		name := string(t.Name)
		if names, ok := arrayKinds[name]; ok {
			s.own = p.array(t, names)
			return
		}
		switch name {
		case "technique_common":
			p.children(func(t xmlscan.Token) {
				if string(t.Name) == "accessor" {
					p.accessor(s, t)
				}
			})
		case "technique", "asset", "extra":
		default:
			p.unknown(t, "an array or technique_common")
		}
	})
	return s
}

// array notes where the text of an array is.
func (p *parser) array(t xmlscan.Token, names bool) *array {
	a := &array{names: names, span: span(t.Pos, t.End)}
	a.count, a.countSpan = p.count("count", -1)
	id := p.r.AttrValue("id")
	register(p, p.arrays, id, a, a.span)
	a.text, _ = p.texts()
	return a
}

// count returns an attribute that holds a whole number, or other without it.
func (p *parser) count(name string, other int) (int, scene.Span) {
	a, ok := p.r.Attr(name)
	if !ok {
		return other, scene.Span{}
	}
	at := span(a.Start, a.End)
	v, err := strconv.ParseUint(p.r.Value(a), 10, 31)
	if err != nil {
		p.syntax(at, "expected a whole number from 0 to %d for %s, found %s", 1<<31-1, name, quote(p.r.Value(a)))
		return other, at
	}
	return int(v), at
}

// accessor reads how a source's array is cut into values.
func (p *parser) accessor(s *source, t xmlscan.Token) {
	s.hasAccessor = true
	s.array = p.attrRef("source")
	s.count, s.countSpan = p.count("count", -1)
	s.offset, _ = p.count("offset", 0)
	var at scene.Span
	if s.stride, at = p.count("stride", 1); s.stride == 0 {
		p.syntax(at, "expected a stride of at least 1, found 0; 1 is used")
		s.stride = 1
	}
	p.children(func(t xmlscan.Token) {
		if string(t.Name) == "param" {
			s.params = append(s.params, param{p.r.AttrValue("name"), paramWidth(p.r.AttrValue("type"))})
		}
	})
}

// paramWidth returns how many numbers a parameter of the given type takes:
// float3 takes 3, float4x4 takes 16.
func paramWidth(kind string) int {
	n := len(kind)
	if n >= 3 && kind[n-2] == 'x' && isSize(kind[n-1]) && isSize(kind[n-3]) {
		return int(kind[n-3]-'0') * int(kind[n-1]-'0')
	}
	if n > 1 && isSize(kind[n-1]) {
		return int(kind[n-1] - '0')
	}
	return 1
}

func isSize(c byte) bool { return '2' <= c && c <= '4' }

// components returns where in each stride the numbers stand that a source
// gives, and the names of their parameters. A parameter without a name is
// passed over, unless none has one.
func (s *source) components() (at []int, names []string) {
	if s.at == nil {
		s.at, s.names = s.cutComponents()
	}
	return s.at, s.names
}

func (s *source) cutComponents() (at []int, names []string) {
	if len(s.params) == 0 {
		for i := range min(s.stride, 16) {
			at, names = append(at, i), append(names, "")
		}
		return at, names
	}
	named := false
	for _, param := range s.params {
		named = named || param.name != ""
	}
	i := 0
	for _, param := range s.params {
		for range param.width {
			if i < s.stride && (param.name != "" || !named) {
				at, names = append(at, i), append(names, param.name)
			}
			i++
		}
	}
	return at, names
}

// arrayOf returns the array that a source gives access to, nil with a problem
// when there is none.
func (p *parser) arrayOf(s *source) *array {
	if s.array.url == "" {
		if s.own == nil {
			p.problems.Once(scene.Syntax, s.span, "array "+s.id, "expected an array in the source %s, found none", quote(s.id))
		}
		return s.own
	}
	if a, ok := find(p, p.arrays, s.array); ok {
		return a
	}
	if s.own != nil {
		return s.own // a mistyped reference; there is only one to mean
	}
	p.problems.Once(scene.Syntax, s.array.span, "array "+s.array.url, "no array has the id %s", quote(s.array.url))
	return nil
}
