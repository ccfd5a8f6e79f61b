package usda

import (
	"curvelint/parse/scene"
)

// composed is a prim of the scene: what all its layers together make of it.
type composed struct {
	path, name string
	parent     *composed
	kids       []*composed
	opinions   []opinion // strongest first
}

// opinion is what one layer says about a composed prim.
type opinion struct {
	layer *layer
	prim  *prim
	time  timeMap // from the layer's time to the scene's
	node  *node
}

// compose returns the prims at the root of the scene.
func compose(l *loader, first *layer) []*composed {
	s := l.stackOf(first)
	bytes := 0
	for _, f := range l.files {
		bytes += len(f.Text)
	}
	c := &composer{loader: l, limit: 100_000 + bytes/8}
	var names []string
	seen := map[string]bool{}
	for i := len(s.sources) - 1; i >= 0; i-- {
		for _, k := range s.sources[i].layer.root.kids {
			if !seen[k.name] {
				seen[k.name] = true
				names = append(names, k.name)
			}
		}
	}
	var roots []*composed
	for _, name := range names {
		n := &node{stack: s, path: "/" + name, time: sameTime, specs: s.specsAt(name)}
		c.nodes++
		c.expand(n, 1)
		if p := c.prim(n, nil, name, 1); p != nil {
			roots = append(roots, p)
		}
	}
	return roots
}

// prim makes a composed prim of its node, with all below it; nil when it is
// not part of the scene: a class, or switched off.
func (c *composer) prim(n *node, parent *composed, name string, depth int) *composed {
	p := &composed{name: name, path: "/" + name, parent: parent}
	if parent != nil {
		p.path = parent.path + p.path
	}
	c.chooseVariants(n, depth)
	for _, x := range n.strongestFirst() {
		for _, s := range x.specs {
			p.opinions = append(p.opinions, opinion{s.layer, s.prim, s.time.then(x.time), x})
		}
	}
	if !p.active() || p.abstract() {
		return nil
	}
	if depth >= c.maxDepth {
		h := p.opinions[0]
		c.problems.Add(scene.Unsupported, scene.Span{File: h.layer.file, Start: h.prim.header.start, End: h.prim.header.end},
			"prims nested more than %d deep are not studied", c.maxDepth)
		return p
	}
	for _, kid := range p.kidNames() {
		k := c.child(n, kid, nil)
		if k == nil {
			continue
		}
		c.expandAll(k, depth+1)
		if q := c.prim(k, p, kid, depth+1); q != nil {
			p.kids = append(p.kids, q)
		}
	}
	return p
}

// kidNames returns the names of the children: those of the weakest opinion
// first, as they were there before.
func (p *composed) kidNames() []string {
	total := 0
	for _, o := range p.opinions {
		total += len(o.prim.kids)
	}
	names := make([]string, 0, total)
	var seen map[string]bool
	if len(p.opinions) > 1 {
		seen = make(map[string]bool, total)
	}
	for i := len(p.opinions) - 1; i >= 0; i-- {
		for _, k := range p.opinions[i].prim.kids {
			if seen != nil {
				if seen[k.name] {
					continue
				}
				seen[k.name] = true
			}
			names = append(names, k.name)
		}
	}
	return names
}

// active reports whether the prim is switched on, as it is unless said.
func (p *composed) active() bool {
	for _, o := range p.opinions {
		if o.prim.active != 0 {
			return o.prim.active > 0
		}
	}
	return true
}

// abstract reports whether the prim is a class, there only to be inherited.
func (p *composed) abstract() bool {
	spec := over
	for _, o := range p.opinions {
		spec = max(spec, o.prim.spec)
	}
	return spec == class
}

// typ returns the type of the prim, "" if none is written.
func (p *composed) typ() string {
	for _, o := range p.opinions {
		if o.prim.typ != "" {
			return o.prim.typ
		}
	}
	return ""
}

// stated is what an opinion says about a property.
type stated struct {
	*property
	opinion
}

// property returns the strongest opinion about a property that satisfies use.
func (p *composed) property(name string, use func(*property) bool) (stated, bool) {
	for _, o := range p.opinions {
		if q := o.prim.prop(name); q != nil && use(q) {
			return stated{q, o}, true
		}
	}
	return stated{}, false
}

// says reports whether a property has a value, animated or not.
func says(q *property) bool {
	return !q.relation && (q.samples != nil || q.spline != nil || q.hasValue())
}

// valued returns the strongest opinion on an attribute's value; ok is false
// when there is none or it is blocked.
func (p *composed) valued(name string) (stated, bool) {
	v, ok := p.property(name, says)
	return v, ok && (v.samples != nil || v.spline != nil || !v.blocked)
}

// target returns the path in the scene of the first target of a relationship,
// "" if none.
func (p *composed) target(name string) string {
	v, ok := p.property(name, func(q *property) bool { return q.relation && !q.targets.empty() })
	if !ok {
		return ""
	}
	list := v.targets.apply(nil)
	if len(list) == 0 {
		return ""
	}
	return v.node.scenePath(list[0].path.resolve(v.node.path))
}

// span returns where a range of the opinion's layer lies.
func (o opinion) span(e extent) scene.Span {
	return scene.Span{File: o.layer.file, Start: e.start, End: max(e.start, e.end)}
}

// header returns where the strongest opinion declares the prim: preferably a
// def, as that is where a person would look for it.
func (p *composed) header() opinion {
	for _, o := range p.opinions {
		if o.prim.spec == def && !o.prim.variant {
			return o
		}
	}
	return p.opinions[0]
}
