package usda

import (
	"slices"

	"curvelint/parse/scene"
)

// Parse reads the layer called name, whose text is src, and the layers that it
// names, and returns their scene, never nil. What is wrong is in its Problems:
// those of the first file first, each file's in the order of their places.
func Parse(name string, src []byte, o scene.ReadOptions) *scene.Scene {
	l := newLoader(o)
	first := l.read(name, src)
	roots := compose(l, first)
	s := build(l, first, roots)
	s.Files = l.files
	all := l.syntax.List()
	all = append(slices.Clone(all), l.problems.List()...)
	slices.SortStableFunc(all, byPlace)
	s.Problems = all
	return s
}

func newLoader(o scene.ReadOptions) *loader {
	l := &loader{options: o, maxDepth: o.MaxDepth, layers: map[string]*layer{}, stacks: map[*layer]*stack{}, missing: map[string]bool{}}
	if l.maxDepth <= 0 {
		l.maxDepth = defaultMaxDepth
	}
	return l
}
