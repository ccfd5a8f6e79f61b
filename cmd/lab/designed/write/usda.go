package write

import (
	"io"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/cmd/lab/designed"
)

// USDA writes a take as a text layer of nested Xforms, one time sample a frame
// for whatever moves. Shape weights are left out; USDASkeleton carries them.
func USDA(w io.Writer, t *designed.Take) error {
	u := newUSDA(w, t)
	u.header()
	for _, root := range t.Shot.Roots() {
		u.prim(root)
	}
	return u.close()
}

// usda writes one layer.
type usda struct {
	*printer
	t        *designed.Take
	names    []string
	children [][]int
	written  bool // something stands in the open block
	// samples writes an attribute's animation; the styles of USDA differ in it.
	samples func(u *usda, attr string, width int, at func(f, c int) float64, decimals int)
	// stack, where set, writes a part's transform stack instead of transform,
	// and subtree what hangs below it instead of prims; it says whether it did.
	stack   func(part int)
	subtree func(part int) bool
}

func newUSDA(w io.Writer, t *designed.Take) *usda {
	return &usda{
		printer: newPrinter(w, "    "), t: t, children: t.Shot.Children(),
		names: identifiers(t.Shot, usdRune, siblings(t.Shot)), samples: (*usda).baked,
	}
}

// quote writes a string literal.
func quote(s string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`, "\n", `\n`).Replace(s) + `"`
}

// header writes the layer's metadata.
func (u *usda) header() {
	s, t := u.t.Shot, u.t
	u.line("#usda 1.0")
	u.line("(")
	u.depth++
	if len(s.Figures) > 0 {
		top := s.Figures[0].Root
		for s.Parts[top].Parent >= 0 {
			top = s.Parts[top].Parent
		}
		u.line("defaultPrim = ", quote(u.names[top]))
	}
	if s.Note != "" {
		u.line("doc = ", quote(s.Note))
	}
	u.line("endTimeCode = ", strconv.Itoa(t.Frame(t.N-1)))
	u.line("framesPerSecond = ", number(t.Rate, 12))
	u.line("metersPerUnit = ", number(s.MetersPerUnit, 9))
	u.line("startTimeCode = ", strconv.Itoa(t.First))
	u.line("timeCodesPerSecond = ", number(t.Rate, 12))
	u.line("upAxis = ", quote([...]string{"X", "Y", "Z"}[s.Up]))
	u.depth--
	u.line(")")
	u.written = true
}

// space writes the empty line before a prim that is not the first thing in its
// block.
func (u *usda) space() {
	if u.written {
		u.text("\n")
	}
}

// enter opens the block of a prim, and shut ends a block.
func (u *usda) enter() {
	u.line("{")
	u.depth++
	u.written = false
}

func (u *usda) shut() {
	u.depth--
	u.line("}")
	u.written = true
}

// prim writes a part and everything below it.
func (u *usda) prim(i int) {
	part := &u.t.Shot.Parts[i]
	if part.Kind == designed.Weight {
		return
	}
	kind := "Xform"
	switch {
	case part.Kind == designed.Camera:
		kind = "Camera"
	case u.subtree != nil && isFigure(u.t.Shot, i):
		kind = "SkelRoot"
	}
	u.space()
	u.begin()
	u.text("def ", kind, " ", quote(u.names[i]), "\n")
	u.enter()
	if part.Lens != nil {
		u.lens(part.Lens)
	}
	if u.stack != nil {
		u.stack(i)
	} else {
		u.transform(i)
	}
	if u.subtree == nil || !u.subtree(i) {
		for _, c := range u.children[i] {
			u.prim(c)
		}
	}
	u.shut()
}

func (u *usda) lens(l *designed.Lens) {
	u.line("float focalLength = ", number(l.Focal, 4))
	u.line("float horizontalAperture = ", number(l.Width, 4))
	u.line("float verticalAperture = ", number(l.Height, 4))
}

// transform writes a part's transform stack: translate, rotateXYZ, scale, each
// only where it is needed.
func (u *usda) transform(i int) {
	row := &u.t.Rows[i]
	var order []string
	if row.Moves || row.Move[0] != (r3.Vec{}) {
		order = append(order, "xformOp:translate")
		u.translate(row, u.t.Rest(i))
	}
	if angles := u.t.Angles(i, designed.OrderZYX, true); row.Turns || angles[0] != [3]float64{} {
		order = append(order, "xformOp:rotateXYZ")
		u.rotate(row, angles, u.t.Rest(i))
	}
	if row.Size != nil {
		order = append(order, "xformOp:scale")
		u.samples(u, "float3 xformOp:scale", 3, func(f, c int) float64 { return component(row.Size[f], c) }, 5)
	}
	if len(order) > 0 {
		u.written = true
		u.line(`uniform token[] xformOpOrder = ["`, strings.Join(order, `", "`), `"]`)
	}
}

func (u *usda) translate(row *designed.Row, rest designed.Frame) {
	const attr = "double3 xformOp:translate"
	d := u.t.Decimals()
	if row.Moves {
		u.value(attr, func(c int) float64 { return component(rest.At, c) }, d)
		u.samples(u, attr, 3, func(f, c int) float64 { return component(row.Move[f], c) }, d)
		return
	}
	u.value(attr, func(c int) float64 { return component(row.Move[0], c) }, d)
}

func (u *usda) rotate(row *designed.Row, angles [][3]float64, rest designed.Frame) {
	const attr = "float3 xformOp:rotateXYZ"
	if row.Turns {
		e := designed.Angles(rest.Turn, designed.OrderZYX, [3]float64{})
		u.value(attr, func(c int) float64 { return e[c] }, u.t.AngleDecimals())
		u.samples(u, attr, 3, func(f, c int) float64 { return angles[f][c] }, u.t.AngleDecimals())
		return
	}
	u.value(attr, func(c int) float64 { return angles[0][c] }, u.t.AngleDecimals())
}

// value writes an attribute of three components that does not move: for one
// that does, its value at rest.
func (u *usda) value(attr string, at func(c int) float64, decimals int) {
	u.begin()
	u.text(attr, " = ")
	u.tuple(3, at, decimals)
	u.text("\n")
}

// tuple writes a scalar or a tuple in parentheses.
func (u *usda) tuple(width int, at func(c int) float64, decimals int) {
	if width == 1 {
		u.number(at(0), decimals)
		return
	}
	u.text("(")
	for c := range width {
		if c > 0 {
			u.text(", ")
		}
		u.number(at(c), decimals)
	}
	u.text(")")
}

// baked writes one time sample a frame.
func (u *usda) baked(attr string, width int, at func(f, c int) float64, decimals int) {
	u.line(attr, ".timeSamples = {")
	u.depth++
	for f := range u.t.N {
		u.sample(f, width, at, decimals)
	}
	u.shut()
}

func (u *usda) sample(f, width int, at func(f, c int) float64, decimals int) {
	u.begin()
	u.text(strconv.Itoa(u.t.Frame(f)), ": ")
	u.tuple(width, func(c int) float64 { return at(f, c) }, decimals)
	u.text(",\n")
}

func component(v r3.Vec, c int) float64 {
	switch c {
	case 0:
		return v.X
	case 1:
		return v.Y
	}
	return v.Z
}
