package write

import (
	"io"

	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/cmd/lab/designed"
)

// X3D writes a take as X3D 3.3 in XML: nested Transforms, one TimeSensor, and a
// PositionInterpolator or OrientationInterpolator with a key a frame for what
// moves. Lengths are metres. A camera becomes a Viewpoint; shape weights are
// left out.
func X3D(w io.Writer, t *designed.Take) error {
	x := newX3D(w, t, xmlSyntax{})
	x.line(`<?xml version="1.0" encoding="UTF-8"?>`)
	x.line(`<X3D profile="Interchange" version="3.3">`)
	x.depth++
	x.line(`<head>`)
	x.line(`  <meta name="title" content="`, escape(t.Shot.Name), `"/>`)
	x.line(`</head>`)
	x.line(`<Scene>`)
	x.depth++
	x.scene()
	x.depth--
	x.line(`</Scene>`)
	x.depth--
	x.line(`</X3D>`)
	return x.close()
}

// X3DClassic writes the same scene in the Classic VRML encoding.
func X3DClassic(w io.Writer, t *designed.Take) error {
	x := newX3D(w, t, classicSyntax{})
	x.line("#X3D V3.3 utf8")
	x.line("PROFILE Interchange")
	x.line("META \"title\" ", quote(t.Shot.Name))
	x.scene()
	return x.close()
}

// x3dSyntax is one of X3D's encodings. A field's text is given as it stands in
// XML, without quotes.
type x3dSyntax interface {
	begin(x *x3d, node, def string, fields [][2]string)
	end(x *x3d, node string)
	list(x *x3d, field string, put func())
	route(x *x3d, from, to string)
}

type x3d struct {
	*printer
	t        *designed.Take
	children [][]int
	ids      []string
	syntax   x3dSyntax
	unended  bool // an XML start tag waits for more attributes or its end
}

func newX3D(w io.Writer, t *designed.Take, s x3dSyntax) *x3d {
	m := metric(t)
	return &x3d{printer: newPrinter(w, "  "), t: m, children: m.Shot.Children(), ids: identifiers(m.Shot, usdRune, everywhere), syntax: s}
}

// scene writes the sensor, the hierarchy, the interpolators and the routes.
func (x *x3d) scene() {
	x.leaf("TimeSensor", "shot_clock", [2]string{"cycleInterval", number(duration(x.t), 9)}, [2]string{"loop", "true"})
	for _, root := range x.t.Shot.Roots() {
		x.transform(root)
	}
	for i := range x.t.Rows {
		x.interpolators(i)
	}
}

// leaf writes a node without children.
func (x *x3d) leaf(node, def string, fields ...[2]string) {
	x.syntax.begin(x, node, def, fields)
	x.syntax.end(x, node)
}

// transform writes a part at rest and what hangs below it.
func (x *x3d) transform(i int) {
	part, r := &x.t.Shot.Parts[i], &x.t.Rows[i]
	if part.Kind == designed.Weight {
		return
	}
	rest := x.t.Rest(i)
	at, turn := r.Move[0], r.Turn[0]
	if r.Moves {
		at = rest.At
	}
	if r.Turns {
		turn = rest.Turn
	}
	var fields [][2]string
	if at != (r3.Vec{}) {
		fields = append(fields, [2]string{"translation", vectorText(at, x.t.Decimals())})
	}
	if turn != (quat.Number{Real: 1}) {
		fields = append(fields, [2]string{"rotation", turnText(turn)})
	}
	x.syntax.begin(x, "Transform", x.ids[i], fields)
	if part.Lens != nil {
		x.leaf("Viewpoint", "", [2]string{"description", part.Name}, [2]string{"position", "0 0 0"},
			[2]string{"fieldOfView", number(fieldOfView(part.Lens), 6)})
	}
	for _, c := range x.children[i] {
		x.transform(c)
	}
	x.syntax.end(x, "Transform")
}

func vectorText(v r3.Vec, decimals int) string {
	return number(v.X, decimals) + " " + number(v.Y, decimals) + " " + number(v.Z, decimals)
}

func turnText(q quat.Number) string {
	axis, angle := designed.AxisAngle(q)
	return vectorText(axis, quatDecimals) + " " + number(angle, quatDecimals)
}

// interpolators writes what moves a part.
func (x *x3d) interpolators(i int) {
	r, id := &x.t.Rows[i], x.ids[i]
	if r.Moves {
		x.interpolator("PositionInterpolator", id, "translation", func(f int) { x.vector(r.Move[f], x.t.Decimals(), " ") })
	}
	if r.Turns {
		x.interpolator("OrientationInterpolator", id, "rotation", func(f int) { x.text(turnText(r.Turn[f])) })
	}
	if r.Size != nil {
		x.interpolator("PositionInterpolator", id, "scale", func(f int) { x.vector(r.Size[f], 5, " ") })
	}
}

// interpolator writes an interpolator with a key a frame and its two routes.
func (x *x3d) interpolator(node, id, field string, put func(f int)) {
	def := id + "_" + field
	x.syntax.begin(x, node, def, nil)
	x.syntax.list(x, "key", x.rows(func(f int) { x.number(float64(f)/float64(max(x.t.N-1, 1)), 9) }))
	x.syntax.list(x, "keyValue", x.rows(put))
	x.syntax.end(x, node)
	x.syntax.route(x, "shot_clock.fraction_changed", def+".set_fraction")
	x.syntax.route(x, def+".value_changed", id+".set_"+field)
}

// rows writes something for every frame, with commas between.
func (x *x3d) rows(put func(f int)) func() {
	return func() {
		for f := range x.t.N {
			if f > 0 {
				x.text(", ")
			}
			put(f)
		}
	}
}
