package usda

import (
	"bytes"
	"fmt"
	"strings"

	"curvelint/parse/scene"
)

// timeMap takes time codes of a layer to time codes of the scene.
type timeMap struct{ scale, offset float64 }

var sameTime = timeMap{scale: 1}

// then returns the map that applies m first and outer after it.
func (m timeMap) then(outer timeMap) timeMap {
	return timeMap{m.scale * outer.scale, m.offset*outer.scale + outer.offset}
}

// source is a layer of a stack, with the way from its time to that of the
// stack's first layer.
type source struct {
	layer *layer
	time  timeMap
}

// stack is a layer with its sublayers, strongest first.
type stack struct{ sources []source }

func (s *stack) root() *layer { return s.sources[0].layer }

// loader reads the layers that a scene names.
type loader struct {
	options  scene.ReadOptions
	maxDepth int
	files    []*scene.File
	layers   map[string]*layer
	stacks   map[*layer]*stack
	missing  map[string]bool // what has been reported
	syntax   scene.Problems  // of the texts
	problems scene.Problems  // of composition
}

// read adds a file to the scene and reads it.
func (l *loader) read(path string, src []byte) *layer {
	id := scene.FileID(len(l.files))
	l.files = append(l.files, &scene.File{Path: path, Text: src})
	read, problems := readLayer(id, path, src, l.maxDepth)
	l.syntax.Append(problems)
	l.layers[path] = read
	return read
}

// report reports a problem at an arc, once for each target of each layer.
func (l *loader) report(kind scene.ProblemKind, a arc, format string, args ...any) {
	key := fmt.Sprint(a.owner.file, a.asset, a.path.text, kind)
	if l.missing[key] {
		return
	}
	l.missing[key] = true
	l.problems.Add(kind, scene.Span{File: a.owner.file, Start: a.at.start, End: a.at.end}, format, args...)
}

// open returns the layer that an arc names, nil when it cannot be read, which
// it reports. what says what the layer would have given.
func (l *loader) open(a arc, what string) *layer {
	name, _, _ := strings.Cut(a.asset, ":SDF_FORMAT_ARGS:")
	if strings.HasPrefix(name, "`") {
		l.report(scene.Unsupported, a, "the file of this %s is given by an expression, which is not evaluated; what it holds is not studied", what)
		return nil
	}
	if l.options.Open == nil {
		l.report(scene.MissingFile, a, "other files are not read here, so what %s holds for this %s is not studied", name, what)
		return nil
	}
	path, src, err := l.options.Open(a.owner.path, name)
	if err != nil {
		l.report(scene.MissingFile, a, "what %s holds for this %s is not studied: %v", name, what, err)
		return nil
	}
	if known := l.layers[path]; known != nil {
		return known
	}
	if !isText(src) {
		kind := "is no USD text layer"
		if bytes.HasPrefix(src, []byte("PXR-USDC")) {
			kind = "is a binary layer"
		} else if bytes.HasPrefix(src, []byte("PK\x03\x04")) {
			kind = "is a package"
		}
		l.report(scene.Unsupported, a, "%s %s, so what it holds for this %s is not studied; save it as text (.usda) to include it", name, kind, what)
		return nil
	}
	if len(l.layers) >= maxLayers {
		l.report(scene.Unsupported, a, "the scene names more than %d files; %s is not studied", maxLayers, name)
		return nil
	}
	return l.read(path, src)
}

// maxLayers bounds the number of files of one scene.
const maxLayers = 1000

// stackOf returns a layer with its sublayers.
func (l *loader) stackOf(first *layer) *stack {
	if s := l.stacks[first]; s != nil {
		return s
	}
	s := &stack{}
	l.stacks[first] = s
	l.addSources(s, first, sameTime, nil)
	return s
}

// addSources adds a layer and its sublayers to a stack. above are the layers
// that name it.
func (l *loader) addSources(s *stack, add *layer, time timeMap, above []*layer) {
	if len(s.sources) >= maxLayers {
		return
	}
	s.sources = append(s.sources, source{add, time})
	above = append(above, add)
	for _, a := range add.meta.subLayers {
		sub := l.open(a, "sublayer")
		if sub == nil {
			continue
		}
		if containsLayer(above, sub) {
			l.report(scene.Syntax, a, "expected a sublayer that does not lead back here; %s includes itself", a.asset)
			continue
		}
		l.addSources(s, sub, l.offset(a, sub).then(time), above)
	}
}

func containsLayer(list []*layer, x *layer) bool {
	for _, y := range list {
		if x == y {
			return true
		}
	}
	return false
}

// offset returns the way from the time of the layer that an arc names to the
// time of the layer that writes the arc: the arc's offset and scale, and the
// difference in time codes per second.
func (l *loader) offset(a arc, target *layer) timeMap {
	m := timeMap{a.scale, a.offset}
	if !(a.scale > 0) || !finite(a.scale, a.offset) {
		l.report(scene.Unsupported, a, "expected a scale above 0 and a finite offset; times are read without them")
		m = sameTime
	}
	m.scale *= a.owner.meta.codesPerSecond() / target.meta.codesPerSecond()
	return m
}

// codesPerSecond returns the time codes in a second: as written, else the
// frames per second, else 24.
func (m *layerMeta) codesPerSecond() float64 {
	for _, v := range []float64{m.timeCodes, m.frames} {
		if v > 0 && finite(v) {
			return v
		}
	}
	return 24
}

// specsAt returns what the layers of a stack write about the root prim with
// the name.
func (s *stack) specsAt(name string) []spec {
	var specs []spec
	for _, from := range s.sources {
		if n := from.layer.root.kid(name); n != nil {
			specs = append(specs, spec{from.layer, n, from.time})
		}
	}
	return specs
}

// spec is what one layer writes about a prim, with the way from its time to
// that of the node that holds it.
type spec struct {
	layer *layer
	prim  *prim
	time  timeMap
}
