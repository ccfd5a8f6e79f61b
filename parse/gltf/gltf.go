// Package gltf reads glTF 2.0 (ISO/IEC 12113) in its JSON form.
//
// The JSON is walked once, with the place of every object; then the nodes of
// the scene become parts, and the channels of one animation become channels,
// whose keys are decoded from their buffers straight into columns. A data URI
// is decoded piece by piece, where an accessor asks for it, so that a file
// with its buffers inside is never held twice.
//
// Keys have no place of their own: a channel's Def is its object in the JSON.
// A vector becomes one channel for each component, a rotation one channel of
// four numbers, morph weights one channel for each weight.
package gltf

import (
	"fmt"
	"runtime"
	"sort"
	"strings"

	"curvelint/parse/scene"
	"curvelint/parse/text"
)

// formatName is Scene.Format of what this package reads.
const formatName = "gltf"

// Parse reads a glTF file in UTF-8. It never fails as a whole: what is wrong
// is in the scene's Problems, and what is there is used. Buffers in files
// beside are read through o.Open.
func Parse(name string, src []byte, o scene.ReadOptions) *scene.Scene {
	return parse(name, src, o, runtime.GOMAXPROCS(0))
}

// parse is Parse with the given number of goroutines for the accessors.
func parse(name string, src []byte, o scene.ReadOptions, workers int) *scene.Scene {
	p := newParser(name, src, o)
	p.document()
	if p.versionOK() {
		p.parts()
		p.animate(workers)
	}
	p.s.Problems = p.problems.List()
	sort.SliceStable(p.s.Problems, func(i, j int) bool {
		return p.s.Problems[i].Span.Start < p.s.Problems[j].Span.Start
	})
	return p.s
}

func newParser(name string, src []byte, o scene.ReadOptions) *parser {
	p := &parser{name: name, src: src, o: o}
	p.r = newReader(src, &p.problems)
	p.s = &scene.Scene{
		Format: formatName, Files: []*scene.File{{Path: name, Text: src}},
		Rate: scene.DefaultRate, First: 0, Last: -1,
		MetersPerUnit: 1, Up: scene.AxisY, DefaultCamera: scene.NoPart,
	}
	return p
}

// parser holds what the file says and the scene being made of it.
type parser struct {
	name     string
	src      []byte
	o        scene.ReadOptions
	r        *reader
	problems scene.Problems
	s        *scene.Scene

	version, minVersion string
	versionSpan         scene.Span
	isObject            bool // the text is one
	oldShape            bool // things are in objects by name, as in glTF 1.0

	scene       int // -1 when the file does not say
	sceneSpan   scene.Span
	scenes      []gScene
	nodes       []node
	meshes      []mesh
	skins       []skin
	cameras     []camera
	animations  []animation
	accessors   []accessor
	bufferViews []bufferView
	buffers     []buffer

	paths    *scene.Paths
	budget   int // values that may still be decoded
	columns  map[columnKey]*output
	jobs     []*job
	inputs   map[int]int // column of the timeline, by accessor
	timeline scene.Timeline
	keyed    map[channelKey]bool
	curves   map[curveKey]scene.Curve
	byMesh   map[int][]int // nodes in the scene
	// known are the frames of the keys by where their channel starts, when a
	// part is read again; else nil.
	known map[uint32][]float64
}

// versionOK reports files of another version. Their nodes would mean nothing.
func (p *parser) versionOK() bool {
	switch {
	case p.oldShape && !strings.HasPrefix(p.version, "2"), strings.HasPrefix(p.version, "1"):
		found := quote(p.version)
		if p.version == "" {
			found = "1.0, by the shape of the file"
		}
		at := p.versionSpan
		if at.Empty() {
			at = span(p.r.base, min(p.r.base+1, len(p.src)))
		}
		p.problems.Add(scene.Syntax, at, "expected glTF 2.0, found version %s; export it again as glTF 2.0", found)
		return false
	case p.version == "":
		if !p.r.failed && p.isObject {
			p.problems.Add(scene.Syntax, span(p.r.base, min(p.r.base+1, len(p.src))), "expected \"asset\": {\"version\": \"2.0\"}, found no version; it is read as glTF 2.0")
		}
	case !strings.HasPrefix(p.version, "2."), p.minVersion != "" && p.minVersion != "2.0":
		p.problems.Add(scene.Unsupported, p.versionSpan, "this is glTF %s; it is read as 2.0, and what differs is left out", quote(p.version))
	}
	return true
}

// missing reports a reference to something that is not there. In a file that
// ends early that goes without saying.
func (p *parser) missing(at scene.Span, what string, i, n int) {
	if p.r.failed {
		return
	}
	p.problems.Add(scene.Syntax, at, "there is no %s %d; the file has %d", what, i, n)
}

func (p *parser) syntax(at scene.Span, message string, args ...any) {
	p.problems.Add(scene.Syntax, at, message, args...)
}

// span returns a span of the file.
func span(start, end int) scene.Span {
	return scene.Span{Start: uint32(start), End: uint32(end)}
}

// quote shows a word of the file, shortened.
func quote(s string) string { return text.Quote([]byte(s)) }

// valid returns text as valid UTF-8.
func valid(b []byte) string { return strings.ToValidUTF8(string(b), "\uFFFD") }

// plain makes a message of one line without a full stop.
func plain(s string) string {
	return strings.TrimRight(strings.Join(strings.Fields(s), " "), ".")
}

func plural(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
