package write

import (
	"encoding/xml"
	"io"
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/cmd/lab/designed"
)

// COLLADA writes a take as COLLADA 1.4.1: nodes with translate, rotate Z, Y, X
// and scale, each with a sid, and one animation a part with a key a frame.
// Shape weights are left out.
func COLLADA(w io.Writer, t *designed.Take) error { return newCollada(w, t).write() }

func newCollada(w io.Writer, t *designed.Take) *collada {
	return &collada{printer: newPrinter(w, "  "), t: t, children: t.Shot.Children(), ids: identifiers(t.Shot, xmlRune, everywhere)}
}

func (c *collada) write() error {
	c.line(`<?xml version="1.0" encoding="utf-8"?>`)
	c.tag(`<COLLADA xmlns="http://www.collada.org/2005/11/COLLADASchema" version="1.4.1">`)
	c.asset()
	c.cameras()
	c.animations()
	c.scene()
	c.untag("COLLADA")
	return c.close()
}

type collada struct {
	*printer
	t        *designed.Take
	children [][]int
	ids      []string
	between  *designed.Take // for turns keyed by hand: the same shot, fine times as many frames
}

// escape makes text fit for an XML attribute or element.
func escape(s string) string {
	var b strings.Builder
	if err := xml.EscapeText(&b, []byte(s)); err != nil {
		panic(err) // a strings.Builder never fails
	}
	return b.String()
}

// tag writes a start tag on a line and untag the end tag of an element.
func (p *printer) tag(parts ...string) {
	p.line(parts...)
	p.depth++
}

func (p *printer) untag(name string) {
	p.depth--
	p.line("</", name, ">")
}

func (c *collada) asset() {
	unit := map[float64]string{0.01: "centimeter", 1: "meter", 0.001: "millimeter"}[c.t.Shot.MetersPerUnit]
	if unit == "" {
		unit = "unit"
	}
	c.tag("<asset>")
	c.line("<contributor><authoring_tool>curvelint cmd/lab/designed</authoring_tool></contributor>")
	// The schema wants times; a fixed one keeps the file the same every time.
	c.line("<created>2000-01-01T00:00:00Z</created>")
	c.line("<modified>2000-01-01T00:00:00Z</modified>")
	c.line(`<unit name="`, unit, `" meter="`, number(c.t.Shot.MetersPerUnit, 9), `"/>`)
	c.line("<up_axis>", [...]string{"X_UP", "Y_UP", "Z_UP"}[c.t.Shot.Up], "</up_axis>")
	c.untag("asset")
}

func (c *collada) cameras() {
	var list []int
	for i := range c.t.Shot.Parts {
		if c.t.Shot.Parts[i].Lens != nil {
			list = append(list, i)
		}
	}
	if len(list) == 0 {
		return
	}
	c.tag("<library_cameras>")
	for _, i := range list {
		l := c.t.Shot.Parts[i].Lens
		c.tag(`<camera id="`, c.ids[i], `-lens" name="`, escape(c.t.Shot.Parts[i].Name), `">`)
		c.line("<optics><technique_common><perspective>",
			"<yfov>", number(fieldOfView(l)*180/math.Pi, 6), "</yfov>",
			"<aspect_ratio>", number(l.Width/l.Height, 6), "</aspect_ratio>",
			"<znear>", number(0.1/c.t.Shot.MetersPerUnit, 4), "</znear>",
			"<zfar>", number(1000/c.t.Shot.MetersPerUnit, 4), "</zfar>",
			"</perspective></technique_common></optics>")
		c.untag("camera")
	}
	c.untag("library_cameras")
}

func (c *collada) animations() {
	c.tag("<library_animations>")
	for i := range c.t.Rows {
		r := &c.t.Rows[i]
		if r.Moves || r.Turns || r.Size != nil {
			c.animation(i, r)
		}
	}
	c.untag("library_animations")
}

// animation writes one part's keys: the times and the interpolation once, the
// values and a sampler for every channel.
func (c *collada) animation(i int, r *designed.Row) {
	id, t := c.ids[i], c.t
	c.tag(`<animation id="`, id, `-motion" name="`, escape(t.Shot.Parts[i].Name), `">`)
	c.floats(id+"-time", t.N, 1, []string{"TIME"}, func(f, _ int) { c.number(t.Time(f), 7) })
	c.methods(id+"-interpolation", "LINEAR", t.N)
	var targets []string
	xyz := []string{"X", "Y", "Z"}
	if r.Moves {
		c.floats(id+"-translate", t.N, 3, xyz, func(f, k int) { c.number(component(r.Move[f], k), t.Decimals()) })
		targets = append(targets, "translate")
	}
	if r.Turns {
		angles := t.Angles(i, designed.OrderZYX, true)
		for _, axis := range designed.OrderZYX {
			sid := "rotate" + xyz[axis]
			if c.between != nil {
				c.keyedTurn(i, axis, sid)
				continue
			}
			c.floats(id+"-"+sid, t.N, 1, []string{"ANGLE"}, func(f, _ int) { c.number(angles[f][axis], c.t.AngleDecimals()) })
			targets = append(targets, sid)
		}
	}
	if r.Size != nil {
		c.floats(id+"-scale", t.N, 3, xyz, func(f, k int) { c.number(component(r.Size[f], k), 5) })
		targets = append(targets, "scale")
	}
	for _, sid := range targets {
		c.sampler(id, sid)
	}
	if c.between != nil && r.Turns {
		targets = append(targets, "rotateZ", "rotateY", "rotateX")
	}
	for _, sid := range targets {
		member := ""
		if strings.HasPrefix(sid, "rotate") {
			member = ".ANGLE"
		}
		c.line(`<channel source="#`, id, "-", sid, `-sampler" target="`, id, "/", sid, member, `"/>`)
	}
	c.untag("animation")
}

// floats writes a source of n times width numbers.
func (c *collada) floats(id string, n, width int, params []string, put func(f, k int)) {
	c.tag(`<source id="`, id, `">`)
	c.begin()
	c.text(`<float_array id="`, id, `-array" count="`, strconv.Itoa(n*width), `">`)
	for f := range n {
		for k := range width {
			if f+k > 0 {
				c.text(" ")
			}
			put(f, k)
		}
	}
	c.text("</float_array>\n")
	c.accessor(id, n, width, params, "float")
	c.untag("source")
}

func (c *collada) accessor(id string, n, width int, params []string, kind string) {
	c.begin()
	c.text(`<technique_common><accessor source="#`, id, `-array" count="`, strconv.Itoa(n), `" stride="`, strconv.Itoa(width), `">`)
	for _, p := range params {
		c.text(`<param name="`, p, `" type="`, kind, `"/>`)
	}
	c.text("</accessor></technique_common>\n")
}

func (c *collada) sampler(id, sid string) {
	c.tag(`<sampler id="`, id, "-", sid, `-sampler">`)
	c.line(`<input semantic="INPUT" source="#`, id, `-time"/>`)
	c.line(`<input semantic="OUTPUT" source="#`, id, "-", sid, `"/>`)
	c.line(`<input semantic="INTERPOLATION" source="#`, id, `-interpolation"/>`)
	c.untag("sampler")
}

func (c *collada) scene() {
	name := escape(c.t.Shot.Name)
	c.tag("<library_visual_scenes>")
	c.tag(`<visual_scene id="shot-scene" name="`, name, `">`)
	for _, root := range c.t.Shot.Roots() {
		c.node(root)
	}
	c.untag("visual_scene")
	c.untag("library_visual_scenes")
	c.line(`<scene><instance_visual_scene url="#shot-scene"/></scene>`)
}

// node writes a part at rest and what hangs below it.
func (c *collada) node(i int) {
	part, r := &c.t.Shot.Parts[i], &c.t.Rows[i]
	if part.Kind == designed.Weight {
		return
	}
	c.tag(`<node id="`, c.ids[i], `" name="`, escape(part.Name), `" type="NODE">`)
	rest := c.t.Rest(i)
	at, turn := r.Move[0], r.Turn[0]
	if r.Moves {
		at = rest.At
	}
	if r.Turns {
		turn = rest.Turn
	}
	if r.Moves || at != (r3.Vec{}) {
		c.begin()
		c.text(`<translate sid="translate">`)
		c.vector(at, c.t.Decimals(), " ")
		c.text("</translate>\n")
	}
	if e := designed.Angles(turn, designed.OrderZYX, [3]float64{}); r.Turns || e != [3]float64{} {
		for _, axis := range designed.OrderZYX {
			c.line(`<rotate sid="rotate`, [...]string{"X", "Y", "Z"}[axis], `">`,
				[...]string{"1 0 0 ", "0 1 0 ", "0 0 1 "}[axis], number(e[axis], c.t.AngleDecimals()), "</rotate>")
		}
	}
	if r.Size != nil {
		c.line(`<scale sid="scale">1 1 1</scale>`)
	}
	if part.Lens != nil {
		c.line(`<instance_camera url="#`, c.ids[i], `-lens"/>`)
	}
	for _, child := range c.children[i] {
		c.node(child)
	}
	c.untag("node")
}
