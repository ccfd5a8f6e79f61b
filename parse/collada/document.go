package collada

import (
	"strings"

	"curvelint/parse/scene"
	"curvelint/parse/text"
	"curvelint/parse/xml"
)

// document reads the whole file.
func (p *parser) document() {
	for {
		t := p.r.Next()
		if t.Kind == xmlscan.EOF {
			return
		}
		if t.Kind != xmlscan.Start {
			continue
		}
		if string(t.Name) != "COLLADA" {
			p.syntax(span(t.Pos, t.End), "expected the element COLLADA, found %s", quote(string(t.Name)))
			p.r.Skip()
			continue
		}
		p.version()
		p.children(p.library)
	}
}

// version reports a document that is not of version 1.4 or 1.5.
func (p *parser) version() {
	a, ok := p.r.Attr("version")
	if !ok {
		return
	}
	if v := p.r.Value(a); !strings.HasPrefix(v, "1.4") && !strings.HasPrefix(v, "1.5") {
		p.problems.Add(scene.Unsupported, span(a.Start, a.End), "this is COLLADA %s; it is read as 1.4.1, and what differs is left out", quote(v))
	}
}

// library reads a child of the root element.
func (p *parser) library(t xmlscan.Token) {
	switch name := string(t.Name); name {
	case "asset":
		p.children(p.asset)
	case "library_animations":
		p.children(p.only("animation", func(t xmlscan.Token) { p.animation(t) }))
	case "library_animation_clips":
		p.children(p.only("animation_clip", p.clip))
	case "library_nodes":
		p.children(p.only("node", func(t xmlscan.Token) { p.node(t) }))
	case "library_visual_scenes":
		p.children(p.only("visual_scene", p.visualScene))
	case "library_controllers":
		p.children(p.only("controller", p.controller))
	case "library_cameras":
		p.children(p.only("camera", p.camera))
	case "scene":
		p.children(func(t xmlscan.Token) {
			if string(t.Name) == "instance_visual_scene" {
				p.sceneRef = p.attrRef("url")
			}
		})
	case "library_geometries", "library_materials", "library_effects", "library_images",
		"library_lights", "library_formulas":
		// Nothing here moves a node; what is in it can be animated all the same.
		p.children(func(xmlscan.Token) { p.others[p.r.AttrValue("id")] = true })
	case "extra":
	default:
		p.problems.Once(scene.Unsupported, span(t.Pos, t.End), "library "+name, "%s is not read; what it moves is left out", quote(name))
	}
}

// only returns a visitor that reads children of the given name and passes over
// others.
func (p *parser) only(name string, read func(xmlscan.Token)) func(xmlscan.Token) {
	return func(t xmlscan.Token) {
		switch string(t.Name) {
		case name:
			read(t)
		case "asset", "extra":
		default:
			p.unknown(t, name)
		}
	}
}

// unknown reports an element that has no business where it stands.
func (p *parser) unknown(t xmlscan.Token, wanted string) {
	name := quote(string(t.Name))
	p.problems.Once(scene.Unsupported, span(t.Pos, t.End), "element "+name+" "+wanted, "expected %s here, found %s; it and others like it are left out", wanted, name)
}

// asset reads the unit and the up-axis of the document.
func (p *parser) asset(t xmlscan.Token) {
	switch string(t.Name) {
	case "unit":
		a, ok := p.r.Attr("meter")
		if !ok {
			return
		}
		v, end, ok := text.Float(p.src[:a.End], a.Start)
		if !ok || end != a.End || !(v > 0) || v-v != 0 {
			p.syntax(span(a.Start, a.End), "expected the length of a unit in metres, found %s; 1 is used", quote(p.r.Value(a)))
			return
		}
		p.unit = v
	case "up_axis":
		word, at := p.text()
		switch word {
		case "Y_UP":
			p.up = scene.AxisY
		case "Z_UP":
			p.up = scene.AxisZ
		case "X_UP":
			p.up = scene.AxisX
		default:
			p.syntax(at, "expected X_UP, Y_UP or Z_UP, found %s; Y_UP is used", quote(word))
		}
	}
}
