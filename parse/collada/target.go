package collada

import (
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"curvelint/parse/scene"
)

// drive is what a channel drives.
type drive struct {
	channel *channel
	sampler *sampler

	node *node // a transform of a node: its op
	op   int
	// first and width are the components driven: one, or all of the op.
	first, width int

	morph  *controller // or a weight of a morph, number first
	camera *camera     // or a number of a lens
	lens   string
}

// address is a target split into its parts: the id, the sids below it, and
// what of the element at the end is meant.
type address struct {
	id     string
	sids   []string
	member string // "X", "ANGLE"
	index  []int  // (3)(0)
}

// splitTarget splits the target of a channel: id/sid/sid.MEMBER or
// id/sid(i)(j). ids and sids may themselves hold dots, so exact says to take
// the last sid as it is.
func splitTarget(target string, exact bool) (a address, ok bool) {
	path := strings.Split(target, "/")
	last := path[len(path)-1]
	if !exact {
		if n := strings.IndexByte(last, '('); n >= 0 {
			if a.index, ok = indices(last[n:]); !ok {
				return a, false
			}
			last = last[:n]
		} else if n := strings.LastIndexByte(last, '.'); n >= 0 {
			last, a.member = last[:n], last[n+1:]
		}
	}
	path[len(path)-1] = last
	a.id, a.sids = path[0], path[1:]
	return a, true
}

// indices reads (i) or (i)(j).
func indices(s string) ([]int, bool) {
	var list []int
	for s != "" {
		end := strings.IndexByte(s, ')')
		if s[0] != '(' || end < 0 || len(list) == 2 {
			return nil, false
		}
		i, err := strconv.ParseUint(strings.TrimSpace(s[1:end]), 10, 31)
		if err != nil {
			return nil, false
		}
		list, s = append(list, int(i)), s[end+1:]
	}
	return list, true
}

// resolve finds what a channel drives, or reports why it drives nothing.
func (b *builder) resolve(c *channel) (d drive, ok bool) {
	d = drive{channel: c}
	if d.sampler, ok = find(b.parser, b.samplers, c.sampler); !ok {
		at := c.sampler.span
		if at.Empty() {
			at = c.span
		}
		b.syntax(at, "no sampler has the id %s; this channel is left out", quote(c.sampler.url))
		return d, false
	}
	for _, exact := range []bool{true, false} {
		a, ok := splitTarget(c.target.url, exact)
		if !ok {
			b.syntax(c.target.span, "expected a target such as node/translate.X or node/matrix(3)(0), found %s", quote(c.target.url))
			return d, false
		}
		if b.aim(&d, a) {
			return d, b.selectComponents(&d, a)
		}
	}
	b.untargeted(c)
	return d, false
}

// untargeted reports a channel whose target was not found. In a file that ends
// early that goes without saying.
func (b *builder) untargeted(c *channel) {
	if b.r.Cut() {
		return
	}
	a, _ := splitTarget(c.target.url, false)
	n, isNode := b.nodes[a.id]
	_, isCamera := b.cameras[a.id]
	switch {
	case isNode && (len(a.sids) == 0 || slices.Contains(n.extras, a.sids[len(a.sids)-1])), isCamera, b.others[a.id], b.controllers[a.id] != nil:
		b.problems.Once(scene.Unsupported, c.target.span, "target", "%s is no transform, lens or shape weight that is known here; this channel and others like it are left out", quote(c.target.url))
	case isNode:
		b.syntax(c.target.span, "the node %s holds no transform with the sid of %s; this channel is left out", quote(a.id), quote(c.target.url))
	default:
		b.syntax(c.target.span, "nothing has the id of %s; this channel is left out", quote(c.target.url))
	}
}

// aim finds the element that an address names.
func (b *builder) aim(d *drive, a address) bool {
	if n, ok := b.nodes[a.id]; ok && len(a.sids) > 0 {
		d.node, d.op = b.seek(n, a.sids)
		return d.node != nil
	}
	if c, ok := b.cameras[a.id]; ok && len(a.sids) == 1 {
		d.lens = c.lensAt(a.sids[0])
		d.camera = c
		return d.lens != ""
	}
	d.morph = b.morphWith(a.id)
	return d.morph != nil && len(a.index) == 1
}

// seek follows sids from a node: each names a node below the one before it,
// the last a transform, in the node itself or else the nearest node below it
// (COLLADA 1.4.1, chapter 3, address syntax: searched breadth first).
func (b *builder) seek(n *node, sids []string) (*node, int) {
	for _, sid := range sids[:len(sids)-1] {
		if n = b.below(n).nodes[sid]; n == nil {
			return nil, 0
		}
	}
	last := sids[len(sids)-1]
	for i := range n.ops {
		if n.ops[i].sid == last && last != "" {
			return n, i
		}
	}
	found := b.below(n).ops[last]
	return found.node, found.op
}

// morphWith returns the morph whose weights lie in the source or array called
// id, or that has that id itself.
func (b *builder) morphWith(id string) *controller {
	if b.morphs == nil {
		b.morphs = make(map[string]*controller)
		for _, own := range slices.Sorted(maps.Keys(b.controllers)) {
			c := b.controllers[own]
			if !c.morph {
				continue
			}
			b.morphs[own] = c
			b.morphs[strings.TrimPrefix(c.weights.url, "#")] = c
			if s, ok := find(b.parser, b.sources, c.weights); ok {
				b.morphs[strings.TrimPrefix(s.array.url, "#")] = c
			}
		}
		delete(b.morphs, "")
	}
	return b.morphs[id]
}

// memberNames are the components that members mean.
var memberNames = map[string]int{
	"X": 0, "Y": 1, "Z": 2, "W": 3, "S": 0, "T": 1, "U": 0, "V": 1, "R": 0, "G": 1, "B": 2, "A": 3,
}

// selectComponents finds which components of its element an address means.
func (b *builder) selectComponents(d *drive, a address) bool {
	if d.morph != nil {
		d.first, d.width = a.index[0], 1
		return true
	}
	if d.camera != nil {
		d.width = 1
		return true
	}
	kind := d.node.ops[d.op].kind
	d.width = kind.Width()
	member := strings.ToUpper(a.member)
	i, known := 0, true
	switch {
	case member == "" && len(a.index) == 0:
		return true
	case len(a.index) == 2 && kind == scene.Matrix:
		// The first index is the column, the second the row: (3)(0) is the
		// translation in x. The text of a matrix is row by row.
		i, known = a.index[0]+4*a.index[1], a.index[0] < 4 && a.index[1] < 4
	case len(a.index) == 1:
		i = a.index[0]
	case len(a.index) > 1:
		known = false
	case member == "ANGLE" && kind == scene.RotateAxis:
		i = 3
	case member == "ANGLE" && kind == scene.Skew:
		i = 0
	case kind == scene.Translate || kind == scene.Scale || kind == scene.RotateAxis:
		i, known = memberNames[member]
		known = known && i < 3
	default:
		known = false
	}
	if !known || i >= d.width {
		b.syntax(d.channel.target.span, "%s has no such component; this channel is left out", quote(d.channel.target.url))
		return false
	}
	d.first, d.width = i, 1
	return true
}

// quantityOf says what the component of an op measures.
func quantityOf(kind scene.OpKind, component int) scene.Quantity {
	switch kind {
	case scene.Translate:
		return scene.Length
	case scene.Scale:
		return scene.Factor
	case scene.Matrix:
		return scene.Transform
	case scene.RotateAxis:
		if component == 3 {
			return scene.Angle
		}
	case scene.Skew:
		if component == 0 {
			return scene.Angle
		}
	case scene.LookAt:
		if component < 6 {
			return scene.Length
		}
	}
	return scene.Number
}

// componentName is the name of a component of an op in a channel's name.
func componentName(kind scene.OpKind, component int) string {
	switch kind {
	case scene.RotateAxis:
		return [...]string{".X", ".Y", ".Z", ".ANGLE"}[component]
	case scene.Translate, scene.Scale:
		return [...]string{".X", ".Y", ".Z"}[component]
	case scene.Matrix:
		return "(" + strconv.Itoa(component%4) + ")(" + strconv.Itoa(component/4) + ")"
	}
	return "(" + strconv.Itoa(component) + ")"
}

var nan = math.NaN()
