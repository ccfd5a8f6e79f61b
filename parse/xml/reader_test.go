package xmlscan

import (
	"fmt"
	"strings"
	"testing"

	"curvelint/parse/scene"
)

// show writes a document's tokens as one line: (name attr="value" text) for
// elements, and its problems one a line as kind@start-end: message.
func show(src string, maxDepth int) (tokens string, problems []string) {
	var p scene.Problems
	r := New([]byte(src), 0, maxDepth, &p)
	var b strings.Builder
	for {
		token := r.Next()
		switch token.Kind {
		case EOF:
			for _, problem := range p.List() {
				problems = append(problems, fmt.Sprintf("%s@%d-%d: %s",
					problem.Kind, problem.Span.Start, problem.Span.End, problem.Message))
			}
			return b.String(), problems
		case Start:
			fmt.Fprintf(&b, "(%s", token.Name)
			for _, a := range r.Attrs() {
				fmt.Fprintf(&b, " %s=%q", a.Name, r.Value(a))
			}
		case End:
			b.WriteString(")")
		case Text:
			if token.Escaped {
				fmt.Fprintf(&b, " %q", r.Unescape(token.Pos, token.End))
			} else {
				fmt.Fprintf(&b, " %q", src[token.Pos:token.End])
			}
		}
	}
}

func TestTokens(t *testing.T) {
	for _, test := range []struct{ src, want string }{
		{`<a/>`, `(a)`},
		{"\uFEFF<?xml version='1.0'?>\n<a></a>\n", `(a)`},
		{`<!DOCTYPE a [<!-- ] > ' --><!ELEMENT a (#PCDATA)>]><a>x</a>`, `(a "x")`},
		{`<!DOCTYPE X3D PUBLIC "a>b" 'c'><X3D/>`, `(X3D)`},
		{`<a b="1" c = '2"' d=""/>`, `(a b="1" c="2\"" d="")`},
		{`<a>1 2<!-- < & --> 3</a>`, `(a "1 2" " 3")`},
		{`<a><![CDATA[<&]]>]]&gt;</a>`, `(a "<&" "]]>")`},
		{`<a><![CDATA[]]></a>`, `(a)`},
		{"<a>\n <b>\t</b>\n</a>", `(a(b))`},
		{`<a>&lt;&gt;&amp;&quot;&apos;&#65;&#x42;&#x1F600;</a>`, "(a \"<>&\\\"'AB\U0001F600\")"},
		{`<s:a s:b="1"></s:a>`, `(a s:b="1")`},
		{`<a b="x&#32;y"/>`, `(a b="x y")`},
		{`<a b="1>2"/>`, `(a b="1>2")`},
		{"<?xml version=\"1.0\" encoding=\"ISO-8859-1\"?><a b=\"M\xf6we\">\xe9&amp;</a>", `(a b="Möwe" "é&")`},
		{`<möwe/>`, `(möwe)`},
	} {
		got, problems := show(test.src, 0)
		if got != test.want || problems != nil {
			t.Errorf("%s: %s %q, want %s", test.src, got, problems, test.want)
		}
	}
}

func TestProblems(t *testing.T) {
	for _, test := range []struct{ src, tokens, problem string }{
		{``, ``, `syntax@0-0: expected an XML element, found none`},
		{`rope`, ``, `syntax@0-4: expected an element, found text outside the root element`},
		{`<a>`, `(a)`, `partial-export@3-3: expected </a>, found the end of the file; export it again`},
		{`<a><b>`, `(a(b))`, `partial-export@6-6: expected </b> </a>, found the end of the file; export it again`},
		{`<a><b><c><d>`, `(a(b(c(d))))`, `partial-export@12-12: expected </d> </c> </b> ..., found the end of the file; export it again`},
		{`<a><b></a>`, `(a(b))`, `syntax@6-10: expected </b>, found </a>`},
		{`<a></b></a>`, `(a)`, `syntax@3-7: expected </a>, found </b>, which closes nothing and is passed over`},
		{`<a/></a>`, `(a)`, `syntax@4-8: found </a>, but no element is open`},
		{`<a/><b/>`, `(a)(b)`, `syntax@4-6: expected the end of the file after the root element, found another one`},
		{`<a>1 < 2</a>`, `(a "1 " " 2")`, `syntax@5-6: expected the name of an element after '<'; write &lt; for the sign itself`},
		{`<a b>x</a>`, `(a "x")`, `syntax@3-4: expected = and a quoted value after the attribute "b"`},
		{`<a b=1 c="2"/>`, `(a c="2")`, `syntax@3-4: expected a quoted value for the attribute "b"`},
		{`<a b="1/><c d=""/></a>`, `(a(c d=""))`, `syntax@3-6: expected the closing quote of the attribute b before the next tag; write &lt; for the sign itself`},
		{`<a b="1<2"/>`, `(a b="1<2")`, `syntax@3-6: expected the closing quote of the attribute b before the next tag; write &lt; for the sign itself`},
		{`<a b="1`, `(a)`, `partial-export@3-6: expected the closing quote of the attribute b, found the end of the file`},
		{`<a <b/></a>`, `(a(b))`, `syntax@0-3: expected '>' at the end of this tag, found another tag`},
		{`<a></a `, `(a)`, `partial-export@3-7: expected '>' at the end of this tag`},
		{`<a>&rope;</a>`, `(a "&rope;")`, `syntax@3-9: expected one of &lt; &gt; &amp; &quot; &apos; or a character number, found &rope;; entities that a file declares itself are not expanded`},
		{`<a>R&D</a>`, `(a "R&D")`, `syntax@4-6: expected a reference such as &lt; after '&'; write &amp; for the sign itself`},
		{`<a>&#0;</a>`, `(a "&#0;")`, `syntax@3-7: expected one of &lt; &gt; &amp; &quot; &apos; or a character number, found &#0;; entities that a file declares itself are not expanded`},
		{`<a><!-- x</a>`, `(a)`, `partial-export@3-12: expected -->, found the end of the file inside a comment that begins here`},
		{`<a><![CDATA[x</a>`, `(a "x</a>")`, `partial-export@3-12: expected ]]>, found the end of the file inside a CDATA section that begins here`},
		{`<!DOCTYPE a [`, ``, `partial-export@0-9: expected >, found the end of the file inside a declaration that begins here`},
		{`<a><b><c/></b><b/></a>`, `(a)`, `unsupported@3-6: this element is nested 2 deep and the limit is 1; it and others as deep are left out`},
		{"<a>\xff&amp;</a>", "(a \"\uFFFD&\")", "syntax@3-4: expected text in UTF-8, found other bytes; they are shown as \uFFFD here and wherever they occur"},
		{`<a>` + strings.Repeat("<b>", 3) + `</a>`, `(a(b(b(b))))`, `syntax@12-16: expected </b>, found </a>`},
	} {
		depth := 0
		if strings.HasPrefix(test.problem, "unsupported") {
			depth = 1
		}
		tokens, problems := show(test.src, depth)
		if tokens != test.tokens || len(problems) == 0 || problems[0] != test.problem {
			t.Errorf("%s: %s\n\t%q\nwant %s\n\t%q", test.src, tokens, problems, test.tokens, test.problem)
		}
	}
}

func TestEntityBomb(t *testing.T) {
	var b strings.Builder
	b.WriteString(`<!DOCTYPE a [<!ENTITY e0 "rope">`)
	for i := range 30 {
		fmt.Fprintf(&b, `<!ENTITY e%d "%s">`, i+1, strings.Repeat(fmt.Sprintf("&e%d;", i), 10))
	}
	b.WriteString(`]><a>&e30;</a>`)
	tokens, problems := show(b.String(), 0)
	if tokens != `(a "&e30;")` || len(problems) != 2 || !strings.HasPrefix(problems[0], "unsupported@13-21:") {
		t.Errorf("%s %q", tokens, problems)
	}
}

func TestDeepNesting(t *testing.T) {
	const depth = 10_000
	for _, src := range []string{
		strings.Repeat("<a>", depth) + strings.Repeat("</a>", depth),
		strings.Repeat("<a>", depth),
		"<b>" + strings.Repeat("<a>", depth) + "</b>",
	} {
		tokens, problems := show(src, 0)
		if n := strings.Count(tokens, "("); n != DefaultMaxDepth || n != strings.Count(tokens, ")") || len(problems) == 0 {
			t.Errorf("%d elements, problems %q", n, problems)
		}
	}
}

func TestSkip(t *testing.T) {
	src := `<a><b>1<c/>2</b><d/><e></a>`
	var p scene.Problems
	r := New([]byte(src), 0, 0, &p)
	r.Next()
	r.Next()
	if end := r.Skip(); src[:end] != `<a><b>1<c/>2</b>` {
		t.Errorf("skipped to %q", src[:end])
	}
	if token := r.Next(); string(token.Name) != "d" {
		t.Errorf("%q after the skipped element", token.Name)
	}
	if end := r.Skip(); src[:end] != `<a><b>1<c/>2</b><d/>` {
		t.Errorf("skipped to %q", src[:end])
	}
	r.Next()
	r.Skip()
	if token := r.Next(); token.Kind != End || src[token.Pos:token.End] != "</a>" {
		t.Errorf("%v after an element without end tag", token)
	}
}

func TestNumbers(t *testing.T) {
	src := `<a>1&#32;2&#xA;3&amp;4&#49;</a>`
	var p scene.Problems
	r := New([]byte(src), 0, 0, &p)
	r.Next()
	text := r.Next()
	if got := string(r.Numbers(text.Pos, text.End)); got != `1     2     3&amp;4&#49;` {
		t.Errorf("numbers %q", got)
	}
}

func TestPlaces(t *testing.T) {
	src := `<a b="12"> 3 </a>`
	var p scene.Problems
	r := New([]byte(src), 0, 0, &p)
	start := r.Next()
	if got := src[start.Pos:start.End]; got != `<a b="12">` {
		t.Errorf("start tag at %q", got)
	}
	if a, ok := r.Attr("b"); !ok || src[a.Start:a.End] != "12" {
		t.Errorf("attribute %v %v", a, ok)
	}
	if _, ok := r.Attr("c"); ok || r.AttrValue("c") != "" || r.AttrValue("b") != "12" {
		t.Error("attributes looked up wrongly")
	}
	text := r.Next()
	if got := src[text.Pos:text.End]; got != ` 3 ` {
		t.Errorf("text at %q", got)
	}
	end := r.Next()
	if got := src[end.Pos:end.End]; got != `</a>` || r.Depth() != 0 {
		t.Errorf("end tag at %q, depth %d", got, r.Depth())
	}
	for range 3 {
		if token := r.Next(); token.Kind != EOF {
			t.Errorf("%v after the end", token)
		}
	}
}

func TestComments(t *testing.T) {
	src := "<a><!-- 1 --><b/><!--2--></a><!--3"
	var p scene.Problems
	r := New([]byte(src), 0, 0, &p)
	var got []string
	r.OnComment = func(start, end int) { got = append(got, src[start:end]) }
	for r.Next().Kind != EOF {
	}
	if strings.Join(got, "|") != " 1 |2|3" {
		t.Errorf("comments %q", got)
	}
}
