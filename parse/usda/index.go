package usda

import (
	"slices"
	"strings"

	"curvelint/parse/scene"
)

// arcKind is the way by which a node takes part in a prim, strongest first.
type arcKind uint8

const (
	local arcKind = iota
	inherit
	variantArc
	reference
	payload
	specialize
)

var arcTitle = [...]string{"prim", "inherited prim", "variant", "reference", "payload", "specialized prim"}

// node is one place whose layers say something about a composed prim. Its kids
// are the places that it brings in, strongest first; they are weaker.
type node struct {
	kind   arcKind
	depth  int // of the prim that brought it in; deeper is stronger
	parent *node
	stack  *stack
	path   string // of the prim within the stack
	specs  []spec
	time   timeMap // from the stack's time to the scene's
	kids   []*node
	// from and to say where paths of this place lie for the parent: what is
	// at or below from is at or below to. Both are "" where paths are those
	// of the parent.
	from, to string
	// chosen are the variant sets that have been looked at.
	chosen map[string]bool
}

// composer builds the nodes of composed prims.
type composer struct {
	*loader
	nodes, limit int
	full         bool
	latest       arc // that was followed
}

// room counts a node and reports whether there is room for it: scenes may name
// each other in ways that grow without bound.
func (c *composer) room(a arc) bool {
	c.nodes++
	if a.owner != nil {
		c.latest = a
	}
	if c.nodes <= c.limit || c.latest.owner == nil {
		return true
	}
	if !c.full {
		c.full = true
		c.report(scene.Unsupported, c.latest, "this scene brings in more than %d prims by references, payloads and inherits; the rest is not studied", c.limit)
	}
	return false
}

// scenePath returns where a path of the node lies in the scene, "" if nowhere.
func (n *node) scenePath(path string) string {
	for ; n.parent != nil && path != ""; n = n.parent {
		if n.to == "" {
			continue
		}
		if path == n.from {
			path = n.to
		} else if rest, ok := strings.CutPrefix(path, n.from+"/"); ok {
			path = n.to + "/" + rest
		} else if n.parent.stack != n.stack {
			return ""
		}
	}
	return path
}

// leadsBack reports whether bringing in path of the stack s at n would never
// end: a place above n is the same, or holds it, or lies in it.
func (n *node) leadsBack(s *stack, path string) bool {
	for ; n != nil; n = n.parent {
		if n.stack == s && (n.path == path || strings.HasPrefix(n.path, path+"/") || strings.HasPrefix(path, n.path+"/")) {
			return true
		}
	}
	return false
}

// expand brings in what the node's own layers name, and what that names.
func (c *composer) expand(n *node, depth int) {
	if len(n.specs) == 0 {
		return
	}
	lists := [...]struct {
		kind arcKind
		of   func(*prim) *listOp
	}{
		{inherit, func(p *prim) *listOp { return &p.inherits }},
		{reference, func(p *prim) *listOp { return &p.references }},
		{payload, func(p *prim) *listOp { return &p.payloads }},
		{specialize, func(p *prim) *listOp { return &p.specializes }},
	}
	for _, l := range lists {
		var list []arc
		for i := len(n.specs) - 1; i >= 0; i-- {
			if op := l.of(n.specs[i].prim); !op.empty() {
				list = op.apply(list)
			}
		}
		for _, a := range list {
			c.bring(n, l.kind, a, depth)
		}
	}
}

// bring adds the place that an arc names below n.
func (c *composer) bring(n *node, kind arcKind, a arc, depth int) {
	s, time := n.stack, n.time
	if a.asset != "" {
		target := c.open(a, arcTitle[kind])
		if target == nil {
			return
		}
		s = c.stackOf(target)
	}
	if kind == reference || kind == payload {
		time = c.offset(a, s.root()).then(n.timeOf(a.owner))
	}
	path := a.path.resolve(n.path)
	if a.path.text == "" {
		name := s.root().meta.defaultPrim
		if path = "/" + strings.TrimPrefix(name, "/"); name == "" {
			c.report(scene.MissingFile, a, "expected a default prim in %s, or a path in this %s; what it would bring is not studied", s.root().path, arcTitle[kind])
			return
		}
	}
	path = withoutVariants(path)
	if n.leadsBack(s, path) {
		c.report(scene.Syntax, a, "expected a %s that does not lead back to this prim; <%s> includes itself", arcTitle[kind], path)
		return
	}
	kid := c.place(n, s, path, time, a)
	if kid == nil {
		if kind != inherit && kind != specialize && !c.full {
			c.report(scene.MissingFile, a, "expected a prim <%s> in %s; what this %s would bring is not studied", path, s.root().path, arcTitle[kind])
		}
		return
	}
	kid.kind, kid.depth, kid.parent = kind, depth, n
	kid.from, kid.to = path, n.path
	n.insert(kid)
}

// withoutVariants returns a path without its variant selections.
func withoutVariants(path string) string {
	for {
		i := strings.IndexByte(path, '{')
		if i < 0 {
			return path
		}
		n := strings.IndexByte(path[i:], '}')
		rest := path[i+n+1:]
		if rest != "" && rest[0] != '/' && rest[0] != '{' {
			rest = "/" + rest
		}
		path = path[:i] + rest
	}
}

// timeOf returns the way from the time of one of the node's layers to the
// scene's.
func (n *node) timeOf(l *layer) timeMap {
	for _, s := range n.specs {
		if s.layer == l {
			return s.time.then(n.time)
		}
	}
	return n.time
}

// insert adds a kid behind those that are as strong.
func (n *node) insert(kid *node) {
	i := len(n.kids)
	for i > 0 && weaker(n.kids[i-1], kid) {
		i--
	}
	n.kids = slices.Insert(n.kids, i, kid)
}

func weaker(a, b *node) bool {
	if a.kind != b.kind {
		return a.kind > b.kind
	}
	return a.depth < b.depth
}

// place returns the node of a path in a stack, with all that is brought in
// there, nil when no layer of the stack has such a prim.
func (c *composer) place(parent *node, s *stack, path string, time timeMap, a arc) *node {
	names := strings.Split(strings.TrimPrefix(path, "/"), "/")
	if !c.room(a) {
		return nil
	}
	n := &node{parent: parent, stack: s, path: "/" + names[0], time: time, specs: s.specsAt(names[0])}
	if len(n.specs) == 0 {
		return nil
	}
	c.expand(n, 1)
	for i, name := range names[1:] {
		c.chooseVariants(n, 1)
		if n = c.child(n, name, parent); n == nil {
			return nil
		}
		c.expandAll(n, i+2)
	}
	return n
}

// child returns the node for a child of what n is about, nil when nothing is
// said about it.
func (c *composer) child(n *node, name string, parent *node) *node {
	k := &node{kind: n.kind, depth: n.depth, parent: parent, stack: n.stack, path: n.path + "/" + name, time: n.time, from: n.from, to: n.to}
	for _, s := range n.specs {
		if p := s.prim.kid(name); p != nil {
			k.specs = append(k.specs, spec{s.layer, p, s.time})
		}
	}
	for _, below := range n.kids {
		if x := c.child(below, name, k); x != nil {
			k.kids = append(k.kids, x)
		}
	}
	if len(k.specs) == 0 && len(k.kids) == 0 || !c.room(arc{}) {
		return nil
	}
	return k
}

// expandAll expands a node and all below it that were there before.
func (c *composer) expandAll(n *node, depth int) {
	below := slices.Clone(n.kids)
	c.expand(n, depth)
	for _, k := range below {
		c.expandAll(k, depth)
	}
}

// chooseVariants brings in the selected variants of all nodes from top down.
// A variant may bring more variant sets.
func (c *composer) chooseVariants(top *node, depth int) {
	for again := true; again; {
		again = false
		for _, n := range top.strongestFirst() {
			for _, s := range n.specs {
				for _, set := range s.prim.variants {
					if n.chosen[set.name] {
						continue
					}
					if n.chosen == nil {
						n.chosen = map[string]bool{}
					}
					n.chosen[set.name] = true
					if name, ok := top.selection(set.name); ok {
						again = c.bringVariant(n, set.name, name, depth) || again
					}
				}
			}
		}
	}
}

// selection returns the strongest selection for a variant set.
func (n *node) selection(set string) (string, bool) {
	for _, x := range n.strongestFirst() {
		for _, s := range x.specs {
			for _, sel := range s.prim.selections {
				if sel.set == set {
					return sel.variant, true
				}
			}
		}
	}
	return "", false
}

// bringVariant adds a variant of a set below n.
func (c *composer) bringVariant(n *node, set, name string, depth int) bool {
	k := &node{kind: variantArc, depth: depth, parent: n, stack: n.stack, path: n.path, time: n.time}
	for _, s := range n.specs {
		for _, vs := range s.prim.variants {
			for _, v := range vs.variants {
				if vs.name == set && v.name == name {
					k.specs = append(k.specs, spec{s.layer, v, s.time})
				}
			}
		}
	}
	if len(k.specs) == 0 || !c.room(arc{}) {
		return false
	}
	n.insert(k)
	c.expand(k, depth)
	return true
}

// strongestFirst returns the node and all below in the order of strength.
// Specialized prims are weaker than everything else.
func (n *node) strongestFirst() []*node {
	var strong, weak []*node
	var walk func(x *node, into *[]*node)
	walk = func(x *node, into *[]*node) {
		if x.kind == specialize {
			into = &weak
		}
		*into = append(*into, x)
		for _, k := range x.kids {
			walk(k, into)
		}
	}
	walk(n, &strong)
	return append(strong, weak...)
}
