// Package bvh reads the motion-capture trade's plain-text format: a hierarchy
// of joints with their channels, then one line of numbers a frame.
//
// There is no standards body. What is read here: keywords and channel names in
// any case; spaces, tabs and commas between words; names with spaces, colons
// and dots; several roots; joints with any set of position and rotation
// channels. With column vectors the local transform of a joint is
//
//	T(offset + position) * R1 * R2 * R3
//
// with the rotations in the order of their declaration, in degrees. The first
// frame line is frame 1.
package bvh

import (
	"runtime"

	"curvelint/parse/scene"
)

// formatName is Scene.Format of what this package reads.
const formatName = "bvh"

// Parse reads a BVH file. It never fails as a whole: what is wrong is in the
// scene's Problems, and what is there is used. Each declared channel becomes
// one channel of the scene, in the order of the columns.
func Parse(name string, src []byte, o scene.ReadOptions) *scene.Scene {
	return parse(name, src, o, runtime.GOMAXPROCS(0))
}

// parse is Parse with the given number of goroutines for the frame lines.
func parse(name string, src []byte, o scene.ReadOptions, workers int) *scene.Scene {
	p := &parser{src: src, maxDepth: o.MaxDepth, pathBudget: 1<<16 + 16*len(src)}
	if p.maxDepth <= 0 {
		p.maxDepth = 256
	}
	p.hierarchy()
	p.motionHeader()
	m := p.readMotion(workers)
	s := &scene.Scene{
		Format:        formatName,
		Files:         []*scene.File{{Path: name, Text: src}},
		First:         firstFrame,
		Last:          firstFrame - 1 + float64(len(m.rows)),
		RangeKnown:    p.framesKnown && p.frames == len(m.rows),
		DefaultCamera: scene.NoPart,
		Parts:         p.parts,
	}
	s.Rate, s.RateKnown = p.rate(o)
	p.channels(s, m)
	s.Problems = p.problems.List()
	return s
}

// firstFrame is the display frame of the first frame line.
const firstFrame = 1

// parser holds what the header says and the problems found so far.
type parser struct {
	src        []byte
	i          int // next byte of the header to read
	problems   scene.Problems
	maxDepth   int
	pathBudget int // bytes of part paths that may still be made

	parts   []scene.Part
	joints  []joint // parallel to parts
	columns []column
	open    []block             // blocks not closed yet, outermost first
	taken   map[siblingName]int // how often a name occurs below a parent

	cutOff      bool // the file ends inside the hierarchy
	hasMotion   bool
	motion      scene.Span // the keyword MOTION
	rowsStart   int        // offset behind the header of the motion
	frames      int        // what Frames: claims
	framesSeen  bool       // there is a Frames:
	framesKnown bool       // and a number behind it
	framesSpan  scene.Span
	frameTime   float64 // seconds, 0 when unknown
	timeStep    float64 // one unit in the last digit of frameTime
}

// joint is what a part needs beyond the model.
type joint struct {
	offset     [3]float64
	offsetSpan scene.Span
	hasOffset  bool
	columns    []int // into parser.columns, in order of declaration
}

// column is one number of every frame line.
type column struct {
	part scene.PartID // NoPart for a column that is read over
	axis int          // 0, 1, 2 for X, Y, Z
	turn bool         // rotation, else position
	span scene.Span   // the channel's name
}

// span returns a span of the file.
func span(start, end int) scene.Span {
	return scene.Span{Start: uint32(start), End: uint32(end)}
}

func (p *parser) syntax(at scene.Span, message string, args ...any) {
	p.problems.Add(scene.Syntax, at, message, args...)
}
