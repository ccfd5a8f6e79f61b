package write

import (
	"io"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/cmd/lab/designed"
)

// BVH writes a take as a BVH file: every root of the shot that moves is a ROOT
// with six channels, every other part a JOINT with three, or six when it also
// moves against its parent. Position channels count from the OFFSET. Cameras,
// sizes and shape weights are left out; the format has neither.
func BVH(w io.Writer, t *designed.Take) error {
	return bvhInOrder(w, t, designed.OrderZYX)
}

// BVHInOrder is BVH with the rotation channels in another order of
// multiplication.
func BVHInOrder(o designed.Order) func(io.Writer, *designed.Take) error {
	return func(w io.Writer, t *designed.Take) error { return bvhInOrder(w, t, o) }
}

func bvhInOrder(w io.Writer, t *designed.Take, o designed.Order) error {
	b := &bvh{printer: newPrinter(w, "\t"), t: t, order: o, children: t.Shot.Children()}
	b.line("HIERARCHY")
	for _, root := range t.Shot.Roots() {
		if t.Shot.Parts[root].Kind == designed.Node {
			b.joint(root)
		}
	}
	b.line("MOTION")
	b.line("Frames: ", strconv.Itoa(t.N))
	b.line("Frame Time: ", number(1/t.Rate, 7))
	for f := range t.N {
		b.frame(f)
	}
	return b.close()
}

type bvh struct {
	*printer
	t        *designed.Take
	order    designed.Order
	children [][]int
	columns  []column
}

// column is one part's share of a frame line.
type column struct {
	part   int
	moves  bool
	offset r3.Vec
	angles [][3]float64
}

// joint writes a part's block.
func (b *bvh) joint(i int) {
	part, row := &b.t.Shot.Parts[i], &b.t.Rows[i]
	c := column{part: i, moves: row.Moves, angles: b.t.Angles(i, b.order, false)}
	word := "JOINT "
	switch {
	case part.Parent < 0:
		word, c.moves = "ROOT ", true
	case row.Moves:
		c.offset = b.t.Rest(i).At
	default:
		c.offset = row.Move[0]
	}
	b.line(word, bvhName(part.Name))
	b.line("{")
	b.depth++
	b.offset(c.offset)
	b.channels(c.moves)
	b.columns = append(b.columns, c)
	leaf := true
	for _, child := range b.children[i] {
		switch b.t.Shot.Parts[child].Kind {
		case designed.Node:
			b.joint(child)
			leaf = false
		case designed.Tip:
			b.end(b.t.Rows[child].Move[0])
			leaf = false
		}
	}
	if leaf {
		b.end(r3.Vec{}) // the format wants an end to every chain
	}
	b.depth--
	b.line("}")
}

// bvhName keeps a name on its line.
func bvhName(name string) string {
	return strings.Map(func(r rune) rune {
		if r == '\n' || r == '\r' || r == '{' || r == '}' {
			return '_'
		}
		return r
	}, name)
}

func (b *bvh) offset(v r3.Vec) {
	b.begin()
	b.text("OFFSET ")
	b.vector(v, b.t.Decimals(), " ")
	b.text("\n")
}

func (b *bvh) channels(moves bool) {
	b.begin()
	n := "3"
	if moves {
		n = "6"
	}
	b.text("CHANNELS ", n)
	if moves {
		b.text(" Xposition Yposition Zposition")
	}
	for _, axis := range b.order {
		b.text(" ", [...]string{"X", "Y", "Z"}[axis], "rotation")
	}
	b.text("\n")
}

func (b *bvh) end(at r3.Vec) {
	b.line("End Site")
	b.line("{")
	b.depth++
	b.offset(at)
	b.depth--
	b.line("}")
}

// frame writes one line of the motion.
func (b *bvh) frame(f int) {
	sep := ""
	for i := range b.columns {
		c := &b.columns[i]
		if c.moves {
			b.text(sep)
			b.vector(r3.Sub(b.t.Rows[c.part].Move[f], c.offset), b.t.Decimals(), " ")
			sep = " "
		}
		for _, axis := range b.order {
			b.text(sep)
			b.number(c.angles[f][axis], b.t.AngleDecimals())
			sep = " "
		}
	}
	b.text("\n")
}
