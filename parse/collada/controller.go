package collada

import (
	"curvelint/parse/scene"
	"curvelint/parse/xml"
)

// controller is a skin or a morph.
type controller struct {
	skin, morph    bool
	source         ref // the geometry or controller that it deforms
	joints         ref // skin: source of the joints' names
	targets        ref // morph: source of the targets' ids
	weights        ref // morph: source of the weights
	jointNames     []string
	targetNames    []string
	namesAreLoaded bool
}

// controller reads a controller element.
func (p *parser) controller(t xmlscan.Token) {
	c := &controller{}
	register(p, p.controllers, p.r.AttrValue("id"), c, span(t.Pos, t.End))
	p.children(func(t xmlscan.Token) {
		switch string(t.Name) {
		case "skin":
			c.skin, c.source = true, p.attrRef("source")
			p.children(func(t xmlscan.Token) { p.skinChild(c, t) })
		case "morph":
			c.morph, c.source = true, p.attrRef("source")
			p.children(func(t xmlscan.Token) { p.skinChild(c, t) })
		case "asset", "extra":
		default:
			p.unknown(t, "skin or morph")
		}
	})
}

func (p *parser) skinChild(c *controller, t xmlscan.Token) {
	switch string(t.Name) {
	case "source":
		p.source(t)
	case "joints", "targets":
		p.children(func(t xmlscan.Token) {
			if string(t.Name) != "input" {
				return
			}
			switch p.r.AttrValue("semantic") {
			case "JOINT":
				c.joints = p.attrRef("source")
			case "MORPH_TARGET":
				c.targets = p.attrRef("source")
			case "MORPH_WEIGHT":
				c.weights = p.attrRef("source")
			}
		})
	}
}

// names returns the words of the array behind a source.
func (p *parser) names(r ref) []string {
	s, ok := find(p, p.sources, r)
	if !ok {
		return nil
	}
	a := p.arrayOf(s)
	if a == nil {
		return nil
	}
	var list []string
	p.words(a.text, func(start, end int) bool {
		list = append(list, p.r.Unescape(start, end))
		return true
	})
	return list
}

// morphOf returns the morph behind a controller: itself, or what its skin
// deforms.
func (p *parser) morphOf(c *controller) *controller {
	for range 8 {
		if c == nil || c.morph {
			return c
		}
		c, _ = find(p, p.controllers, c.source)
	}
	return nil
}

// load reads the names of a controller's joints and morph targets.
func (p *parser) load(c *controller) {
	if c.namesAreLoaded {
		return
	}
	c.namesAreLoaded = true
	if c.skin {
		c.jointNames = p.names(c.joints)
	}
	if c.morph {
		c.targetNames = p.names(c.targets)
		if s, ok := find(p, p.sources, c.weights); ok && s.own != nil && s.own.count >= 0 && s.own.count != len(c.targetNames) && len(c.targetNames) > 0 {
			p.problems.Once(scene.Syntax, s.own.countSpan, "morph "+s.id, "expected %d weights, one for each morph target, found count %d", len(c.targetNames), s.own.count)
		}
	}
}
