package write

import (
	"io"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/cmd/lab/designed"
)

// USDASkeleton writes a take with every figure as a skeleton: its root a
// SkelRoot, the parts below it the joints of a Skeleton, their motion and the
// shape weights a SkelAnimation with one sample of all joints a frame. What is
// no figure is written as Xforms.
func USDASkeleton(w io.Writer, t *designed.Take) error {
	u := newUSDA(w, t)
	u.subtree = u.skeleton
	u.header()
	for _, root := range t.Shot.Roots() {
		u.prim(root)
	}
	return u.close()
}

func isFigure(s *designed.Shot, part int) bool {
	for _, f := range s.Figures {
		if f.Root == part {
			return true
		}
	}
	return false
}

// skeleton writes the skeleton of a figure's root.
func (u *usda) skeleton(root int) bool {
	if !isFigure(u.t.Shot, root) {
		return false
	}
	var joints, shapes []int
	paths := map[int]string{root: ""}
	var walk func(i int)
	walk = func(i int) {
		for _, c := range u.children[i] {
			if u.t.Shot.Parts[c].Kind == designed.Weight {
				shapes = append(shapes, c)
				continue
			}
			paths[c] = strings.TrimPrefix(paths[i]+"/"+u.names[c], "/")
			joints = append(joints, c)
			walk(c)
		}
	}
	walk(root)
	u.space()
	u.line(`def Skeleton "skeleton" (`)
	u.line(`    prepend apiSchemas = ["SkelBindingAPI"]`)
	u.line(`)`)
	u.enter()
	u.tokens("joints", joints, func(i int) string { return paths[i] })
	u.matrices("bindTransforms", joints, func(i int) designed.Frame { return u.bind(root, i) })
	u.matrices("restTransforms", joints, u.t.Rest)
	u.line("rel skel:animationSource = <", u.primPath(root), "/skeleton/motion>")
	u.written = true
	u.skelAnimation(joints, shapes, paths)
	u.shut()
	return true
}

// bind is a joint's rest frame seen from the figure's root.
func (u *usda) bind(root, i int) designed.Frame {
	f := u.t.Rest(i)
	for p := u.t.Shot.Parts[i].Parent; p != root; p = u.t.Shot.Parts[p].Parent {
		f = f.In(u.t.Rest(p))
	}
	return f
}

func (u *usda) primPath(i int) string {
	path := ""
	for p := i; p >= 0; p = u.t.Shot.Parts[p].Parent {
		path = "/" + u.names[p] + path
	}
	return path
}

func (u *usda) tokens(name string, list []int, text func(i int) string) {
	u.begin()
	u.text("uniform token[] ", name, " = [")
	u.join(len(list), func(k int) { u.text(quote(text(list[k]))) })
	u.text("]\n")
}

// join writes n things with commas between.
func (u *usda) join(n int, put func(k int)) {
	for k := range n {
		if k > 0 {
			u.text(", ")
		}
		put(k)
	}
}

// matrices writes one matrix a joint, as rows for row vectors.
func (u *usda) matrices(name string, list []int, at func(i int) designed.Frame) {
	u.begin()
	u.text("uniform matrix4d[] ", name, " = [")
	u.join(len(list), func(k int) {
		f := at(list[k])
		u.text("( ")
		for _, axis := range []r3.Vec{{X: 1}, {Y: 1}, {Z: 1}} {
			u.text("(")
			u.vector(designed.Rotate(f.Turn, axis), quatDecimals, ", ")
			u.text(", 0), ")
		}
		u.text("(")
		u.vector(f.At, u.t.Decimals(), ", ")
		u.text(", 1) )")
	})
	u.text("]\n")
}

// skelAnimation writes the motion of all joints and shapes.
func (u *usda) skelAnimation(joints, shapes []int, paths map[int]string) {
	u.space()
	u.line(`def SkelAnimation "motion"`)
	u.enter()
	if len(shapes) > 0 {
		u.tokens("blendShapes", shapes, func(i int) string { return u.names[i] })
		u.array("float[] blendShapeWeights", shapes, func(i, f int) { u.number(u.t.Rows[i].Value[f], 5) })
	}
	u.tokens("joints", joints, func(i int) string { return paths[i] })
	u.array("quatf[] rotations", joints, func(i, f int) { u.quat(u.t.Rows[i].Turn[f]) })
	u.begin()
	u.text("half3[] scales = [")
	u.join(len(joints), func(int) { u.text("(1, 1, 1)") })
	u.text("]\n")
	u.array("float3[] translations", joints, func(i, f int) {
		u.text("(")
		u.vector(u.t.Rows[i].Move[f], u.t.Decimals(), ", ")
		u.text(")")
	})
	u.shut()
}

func (u *usda) quat(q quat.Number) {
	u.text("(")
	u.quaternion(q, ", ")
	u.text(")")
}

// array writes one sample of a whole array a frame.
func (u *usda) array(attr string, list []int, put func(i, f int)) {
	u.line(attr, ".timeSamples = {")
	u.depth++
	for f := range u.t.N {
		u.begin()
		u.text(strconv.Itoa(u.t.Frame(f)), ": [")
		u.join(len(list), func(k int) { put(list[k], f) })
		u.text("],\n")
	}
	u.shut()
}
