package xmlscan

import (
	"bytes"
	"encoding/xml"
	"io"
	"strings"
	"testing"
	"unicode/utf8"

	"curvelint/parse/scene"
)

// flat is a document as the two readers agree on it: elements, attributes, and
// the text of each element without white space.
type flat struct {
	list []string
}

func (f *flat) text(s string) {
	s = strings.Join(strings.Fields(s), "")
	if s == "" {
		return
	}
	if n := len(f.list); n > 0 && strings.HasPrefix(f.list[n-1], "text ") {
		f.list[n-1] += s
		return
	}
	f.list = append(f.list, "text "+s)
}

func squeeze(s string) string { return strings.Join(strings.Fields(s), " ") }

// ours reads a document with this package, checking that the stream is
// balanced and goes forward.
func ours(t *testing.T, src []byte) (flat, []scene.Problem) {
	var problems scene.Problems
	r := New(src, 0, 0, &problems)
	var f flat
	depth, last := 0, 0
	for {
		token := r.Next()
		if token.Pos < last && token.Kind != End || token.End < token.Pos || token.End > len(src) {
			t.Fatalf("token %+v after offset %d", token, last)
		}
		last = token.End
		switch token.Kind {
		case EOF:
			if depth != 0 {
				t.Fatalf("%d elements left open", depth)
			}
			return f, problems.List()
		case Start:
			depth++
			f.list = append(f.list, "<"+string(token.Name))
			for _, a := range r.Attrs() {
				f.list = append(f.list, string(local(a.Name))+"="+squeeze(r.Value(a)))
			}
		case End:
			if depth--; depth < 0 {
				t.Fatal("more ends than starts")
			}
			f.list = append(f.list, ">"+string(token.Name))
		case Text:
			if token.Escaped {
				f.text(r.Unescape(token.Pos, token.End))
			} else {
				f.text(string(src[token.Pos:token.End]))
			}
		}
	}
}

// theirs reads a document with encoding/xml of the standard library; ok is
// false when that refuses it.
func theirs(src []byte) (f flat, ok bool) {
	d := xml.NewDecoder(bytes.NewReader(src))
	depth, roots := 0, 0
	for {
		token, err := d.Token()
		if err == io.EOF {
			return f, depth == 0 && roots == 1
		}
		if err != nil {
			return f, false
		}
		switch token := token.(type) {
		case xml.StartElement:
			if depth == 0 {
				roots++
			}
			depth++
			f.list = append(f.list, "<"+token.Name.Local)
			for _, a := range token.Attr {
				f.list = append(f.list, a.Name.Local+"="+squeeze(a.Value))
			}
		case xml.EndElement:
			depth--
			f.list = append(f.list, ">"+token.Name.Local)
		case xml.CharData:
			if depth == 0 && strings.TrimSpace(string(token)) != "" {
				return f, false
			}
			f.text(string(token))
		case xml.Directive:
			return f, false // document types are read differently
		}
	}
}

var seeds = []string{
	`<a/>`, `<a b="1" c='2'>x<!-- y --><![CDATA[z]]>&amp;</a>`,
	`<?xml version="1.0" encoding="utf-8"?><COLLADA><source id="t"><float_array count="3">0 1 2</float_array></source></COLLADA>`,
	`<!DOCTYPE a [<!ENTITY b "c">]><a>&b;</a>`, `<a><b></a></b>`, `<a b="<"/>`, `<a`, `<`, `</a>`, `<a b`, `<a b=`, `<a b="`, `<![CDATA[`, `<!--`, `<?`,
	"<a>\r\n\xff\xfe</a>", `<a>&#x;&#1114112;&;</a>`, `<x:a x:b="">`,
}

// FuzzReader checks that the stream is balanced whatever the input, and that a
// document which encoding/xml takes reads the same here and without problems.
func FuzzReader(f *testing.F) {
	for _, s := range seeds {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, src []byte) {
		got, problems := ours(t, src)
		// encoding/xml takes names with more than one colon apart otherwise,
		// ignores what a NUL is, and joins the values of colliding names.
		if !utf8.Valid(src) || bytes.Contains(src, []byte(":")) || bytes.Contains(src, []byte("\uFEFF")) {
			return
		}
		want, ok := theirs(src)
		if !ok || deeper(want, DefaultMaxDepth) {
			return
		}
		for _, p := range problems {
			t.Errorf("%q: %s", src, p.Message)
		}
		if strings.Join(got.list, "\n") != strings.Join(want.list, "\n") {
			t.Errorf("%q: %q, want %q", src, got.list, want.list)
		}
	})
}

func deeper(f flat, limit int) bool {
	depth := 0
	for _, s := range f.list {
		switch s[0] {
		case '<':
			depth++
		case '>':
			depth--
		}
		if depth > limit {
			return true
		}
	}
	return false
}

// TestAgainstStandardLibrary holds the reader against encoding/xml on a
// document in which every construct occurs.
func TestAgainstStandardLibrary(t *testing.T) {
	src := []byte(`<?xml version="1.0"?>
<!-- the night ferry, invented data -->
<COLLADA xmlns="http://www.collada.org/2005/11/COLLADASchema" version="1.4.1">
  <asset><unit meter="0.01" name="cm"/><up_axis>Y_UP</up_axis></asset>
  <library_animations><animation id="a&amp;b"><source id='t'>
    <float_array id="ta" count="4">0 0.5 <!-- half --> 1 1.5</float_array>
    <extra><![CDATA[<not> & an element]]></extra>
  </source></animation></library_animations>
</COLLADA>`)
	got, problems := ours(t, src)
	want, ok := theirs(src)
	if !ok || len(problems) > 0 || strings.Join(got.list, "\n") != strings.Join(want.list, "\n") {
		t.Errorf("%q, problems %v, want %q", got.list, problems, want.list)
	}
	for cut := range src {
		ours(t, src[:cut])
	}
}
