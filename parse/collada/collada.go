// Package collada reads COLLADA 1.4.1 and 1.5 documents (ISO/PAS 17506).
//
// A document is read in three steps. First the XML is walked once: nodes,
// controllers, cameras, animations, with arrays of numbers noted only by the
// place of their text. Then the nodes of the visual scene, with their
// instances, become parts. Last, each animation channel is resolved to the
// transform element that it targets, and the arrays it needs, and only those,
// are read, on all cores.
//
// Every number of a sampler's output is a key with its own place. A vector
// becomes one channel for each component, a matrix one channel of 16 numbers.
package collada

import (
	"net/url"
	"runtime"
	"sort"
	"strings"

	"curvelint/parse/scene"
	"curvelint/parse/text"
	"curvelint/parse/xml"
)

// formatName is Scene.Format of what this package reads.
const formatName = "collada"

// Parse reads a COLLADA document in UTF-8 (or ISO 8859-1, when it says so). It
// never fails as a whole: what is wrong is in the scene's Problems, and what
// is there is used.
func Parse(name string, src []byte, o scene.ReadOptions) *scene.Scene {
	return parse(name, src, o, runtime.GOMAXPROCS(0))
}

// parse is Parse with the given number of goroutines for the arrays.
func parse(name string, src []byte, o scene.ReadOptions, workers int) *scene.Scene {
	p := newParser(src, o)
	p.document()
	s := &scene.Scene{
		Format:        formatName,
		Files:         []*scene.File{{Path: name, Text: src}},
		First:         0,
		Last:          -1,
		MetersPerUnit: p.unit,
		Up:            p.up,
		DefaultCamera: scene.NoPart,
	}
	b := newBuilder(p, s)
	b.parts()
	b.animate(workers)
	b.allow()
	s.Problems = p.problems.List()
	sort.SliceStable(s.Problems, func(i, j int) bool {
		return s.Problems[i].Span.Start < s.Problems[j].Span.Start
	})
	return s
}

// parser holds what the document says.
type parser struct {
	src      []byte
	r        *xmlscan.Reader
	o        scene.ReadOptions
	problems scene.Problems

	unit float64 // metres
	up   scene.Axis

	sources     map[string]*source
	arrays      map[string]*array
	samplers    map[string]*sampler
	animations  map[string]*animation
	channels    []*channel
	clips       []*clip
	nodes       map[string]*node
	scenes      map[string]*node // visual scenes, as nodes without transform
	firstScene  *node
	sceneRef    ref
	controllers map[string]*controller
	cameras     map[string]*camera
	others      map[string]bool // ids of lights, materials and the like

	// The innermost node or animation being read, for allowances.
	inNode      *node
	inAnimation *animation
	allows      []allowance
}

// allowance is one found in a comment, with the block that it stands in.
type allowance struct {
	scene.Allow
	node      *node
	animation *animation
}

// ref is a reference as written in an attribute or a text.
type ref struct {
	url  string
	span scene.Span
}

func newParser(src []byte, o scene.ReadOptions) *parser {
	p := &parser{
		src: src, o: o, unit: 1,
		sources:     make(map[string]*source),
		arrays:      make(map[string]*array),
		samplers:    make(map[string]*sampler),
		animations:  make(map[string]*animation),
		nodes:       make(map[string]*node),
		scenes:      make(map[string]*node),
		controllers: make(map[string]*controller),
		cameras:     make(map[string]*camera),
		others:      make(map[string]bool),
	}
	p.r = xmlscan.New(src, 0, o.MaxDepth, &p.problems)
	p.r.OnComment = p.comment
	return p
}

// children calls visit for the start of each child of the element whose start
// token was returned last, and returns the offset behind that element. What
// visit leaves of a child is passed over.
func (p *parser) children(visit func(t xmlscan.Token)) int {
	depth := p.r.Depth()
	for {
		t := p.r.Next()
		switch t.Kind {
		case xmlscan.EOF:
			return t.End
		case xmlscan.End:
			if p.r.Depth() < depth {
				return t.End
			}
		case xmlscan.Start:
			visit(t)
			for p.r.Depth() > depth {
				p.r.Skip()
			}
		}
	}
}

// texts returns where the text of the element is whose start token was
// returned last, and the offset behind the element. Text of elements inside
// it is left out.
func (p *parser) texts() (list []textRange, end int) {
	depth := p.r.Depth()
	for {
		t := p.r.Next()
		switch t.Kind {
		case xmlscan.EOF:
			return list, t.End
		case xmlscan.End:
			if p.r.Depth() < depth {
				return list, t.End
			}
		case xmlscan.Text:
			list = append(list, textRange{t.Pos, t.End, t.Escaped})
		case xmlscan.Start:
			p.r.Skip()
		}
	}
}

// textRange is a run of text.
type textRange struct {
	start, end int
	escaped    bool
}

// text returns the text of the element whose start token was returned last,
// without white space around it, and its place.
func (p *parser) text() (string, scene.Span) {
	list, end := p.texts()
	if len(list) == 0 {
		return "", span(end, end)
	}
	var b strings.Builder
	for _, t := range list {
		b.WriteString(p.r.Unescape(t.start, t.end))
	}
	return strings.TrimSpace(b.String()), p.trimmed(list[0].start, list[len(list)-1].end)
}

// trimmed returns the bytes [start, end) without white space around them.
func (p *parser) trimmed(start, end int) scene.Span {
	for start < end && isSpace(p.src[start]) {
		start++
	}
	for start < end && isSpace(p.src[end-1]) {
		end--
	}
	return span(start, end)
}

// attrRef returns an attribute as a reference.
func (p *parser) attrRef(name string) ref {
	a, ok := p.r.Attr(name)
	if !ok {
		return ref{}
	}
	return ref{url: p.r.Value(a), span: span(a.Start, a.End)}
}

// find looks up what a URL of this document names.
func find[T any](p *parser, m map[string]T, r ref) (v T, ok bool) {
	id, local := strings.CutPrefix(r.url, "#")
	if !local {
		if file, _, outside := strings.Cut(r.url, "#"); outside && file != "" {
			p.problems.Once(scene.Unsupported, r.span, "other", "%s lies in another document, which is not read; what it brings is left out", quote(r.url))
			return v, false
		}
		id = r.url // some writers leave the # out
	}
	if v, ok = m[id]; ok {
		return v, true
	}
	if plain, err := url.PathUnescape(id); err == nil && plain != id {
		v, ok = m[plain]
	}
	return v, ok
}

// comment looks for an allowance in a comment.
func (p *parser) comment(start, end int) {
	a, found, err := scene.FindAllow(p.src[start:end], span(start, end))
	switch {
	case !found:
	case err != nil:
		p.problems.Add(scene.Syntax, a.Span, "%s", err.Error())
	default:
		p.allows = append(p.allows, allowance{a, p.inNode, p.inAnimation})
	}
}

func (p *parser) syntax(at scene.Span, message string, args ...any) {
	p.problems.Add(scene.Syntax, at, message, args...)
}

// span returns a span of the document.
func span(start, end int) scene.Span {
	return scene.Span{Start: uint32(start), End: uint32(end)}
}

// quote shows a word of the file, shortened.
func quote(s string) string { return text.Quote([]byte(s)) }

func isSpace(c byte) bool { return c <= ' ' && (c == ' ' || c == '\n' || c == '\t' || c == '\r') }
