// Package table reads tables of numbers: comma or tab separated text (RFC
// 4180) with one line a frame, the way in for any program that prints numbers
// and for tracks picked from reference footage.
//
// The first line is the header. Its first cell is frame, or time for seconds;
// every other cell names one column, as part.channel with the part's parents
// before it (body/neck/head.rx):
//
//	tx ty tz    translation          rx ry rz    rotation in degrees
//	sx sy sz    scale                wx wy wz    a position in world space
//	u v         a place on the picture, 0 to 1 from its top left corner
//
// Any other channel, or a name without a channel, is a free number. The local
// transform of a part is T * R1 * R2 * R3 * S with column vectors. Lines that
// begin with # are comments; before the header "# rotation_order = ZXY" gives
// the order of the rotations (XYZ unless it does) and "# aspect = 1.85" the
// width of the picture over its height.
//
// An empty cell is no key. A track on the picture has x to the right and y up
// in the scene; with an aspect both are in picture heights, else each in its
// own side.
package table

import (
	"runtime"

	"curvelint/parse/scene"
)

// formatName is Scene.Format of what this package reads.
const formatName = "table"

// Parse reads a table. It never fails as a whole: what is wrong is in the
// scene's Problems, and what is there is used. Each column becomes one channel
// of the scene, in the order of the columns.
func Parse(name string, src []byte, o scene.ReadOptions) *scene.Scene {
	return parse(name, src, o, runtime.GOMAXPROCS(0))
}

// parse is Parse with the given number of goroutines for the rows.
func parse(name string, src []byte, o scene.ReadOptions, workers int) *scene.Scene {
	s := &scene.Scene{
		Format: formatName, Files: []*scene.File{{Path: name, Text: src}},
		Rate: scene.DefaultRate, Last: -1, DefaultCamera: scene.NoPart,
	}
	p := newParser(src, o)
	if p.header() {
		p.findRows()
		p.findText()
		p.times(s)
		p.build(s, p.read(workers))
	}
	if o.Rate > 0 {
		s.Rate, s.RateKnown = o.Rate, true
	}
	s.Problems = p.problems.List()
	return s
}

// parser holds what the header says and the problems found so far.
type parser struct {
	src        []byte
	i          int // next byte to read
	problems   scene.Problems
	maxDepth   int
	pathBudget int // bytes of part paths that may still be made
	rate       float64

	separator byte
	order     [3]int // the axes of R1, R2, R3
	aspect    float64
	inSeconds bool
	columns   []column
	parts     []part
	byPath    map[string]scene.PartID

	rows    []uint32  // where the cells after the first begin, at a separator
	seconds []float64 // the first cells, in frames or seconds
}

func newParser(src []byte, o scene.ReadOptions) *parser {
	p := &parser{
		src: src, maxDepth: o.MaxDepth, pathBudget: 1<<16 + 16*len(src), rate: o.Rate,
		order: [3]int{0, 1, 2}, byPath: make(map[string]scene.PartID),
	}
	if p.maxDepth <= 0 {
		p.maxDepth = 256
	}
	return p
}

// span returns a span of the file.
func span(start, end int) scene.Span {
	return scene.Span{Start: uint32(start), End: uint32(end)}
}

func (p *parser) syntax(at scene.Span, message string, args ...any) {
	p.problems.Add(scene.Syntax, at, message, args...)
}
