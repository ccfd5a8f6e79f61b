package scene

import (
	"fmt"
	"strings"
)

// Paths gives the parts of one scene their paths. It keeps paths unique and
// bounds how many bytes of them are made, so that long names in deep
// hierarchies do not grow beyond the size of the file that holds them.
type Paths struct {
	taken  map[sibling]int
	budget int
}

// sibling is a name below a parent.
type sibling struct {
	parent string
	name   string
}

// maxPathName is the number of bytes of a name that a path shows.
const maxPathName = 200

// NewPaths returns an empty set of paths for a file of the given size.
func NewPaths(size int) *Paths {
	return &Paths{taken: make(map[sibling]int), budget: 1<<16 + 16*size}
}

// Add returns the path of a part called name below the path parent ("" for the
// top). The second "spine" below one parent becomes "spine[2]"; a '/' inside a
// name becomes '_'. ok is false when the names of the scene are too long in
// all: the part must then be left out.
func (p *Paths) Add(parent, name string) (path string, ok bool) {
	if len(name) > maxPathName {
		name = strings.ToValidUTF8(name[:maxPathName], "")
	}
	name = strings.ReplaceAll(name, "/", "_")
	for {
		key := sibling{parent, name}
		p.taken[key]++
		n := p.taken[key]
		if n == 1 {
			break
		}
		name = fmt.Sprintf("%s[%d]", name, n)
	}
	path = parent + "/" + name
	p.budget -= len(path)
	return path, p.budget >= 0
}
