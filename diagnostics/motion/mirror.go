package motion

import (
	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion/body"
	"curvelint/diagnostics/motion/solve"
	"curvelint/diagnostics/motion/vec"
	"curvelint/parse/scene"
)

// MirrorGap returns at every frame how far the left part's way from its place at
// the first frame is from the mirror image of the right one's, in figure sizes,
// seen from the lowest part that bears both (a chest that turns breaks no
// mirror). The mirror is the plane half-way between the two at the first frame,
// turned by up to a few degrees to where the ways agree best: few rigs are quite
// symmetric. It also returns the paths of both seen from there, and how far apart
// the mirror leaves their places at the first frame.
func (fig *Figure) MirrorGap(p body.MirrorPair) (gap []float64, left, right []r3.Vec, apart float64) {
	left, right = fig.seenFromBearer(p)
	gap = make([]float64, len(left))
	if len(left) == 0 {
		return gap, left, right, 0
	}
	between := r3.Sub(left[0], right[0])
	if vec.Length(between) == 0 {
		return gap, left, right, 0
	}
	normal := mirrorNormal(left, right, r3.Unit(between))
	for i := range gap {
		gap[i] = mirrorMiss(left, right, normal, i)
	}
	return gap, left, right, vec.Length(r3.Sub(between, r3.Scale(r3.Dot(between, normal), normal)))
}

// seenFromBearer returns the paths of both parts in figure sizes.
func (fig *Figure) seenFromBearer(p body.MirrorPair) (left, right []r3.Vec) {
	s := fig.study
	base := fig.lowestBearer(p)
	left, right = make([]r3.Vec, s.N), make([]r3.Vec, s.N)
	s.EachWorld([]scene.PartID{p.Left, p.Right, base}, 0, s.N, func(first int, worlds [][]solve.Affine) {
		for f := range worlds[2] {
			inv := worlds[2][f].Inverse()
			scale := worlds[2][f].Scale() / fig.Size
			left[first+f] = r3.Scale(scale, inv.Point(worlds[0][f].Origin()))
			right[first+f] = r3.Scale(scale, inv.Point(worlds[1][f].Origin()))
		}
	})
	return left, right
}

// mirrorMiss is how far the ways to frame i are from mirror images.
func mirrorMiss(left, right []r3.Vec, normal r3.Vec, i int) float64 {
	l, r := r3.Sub(left[i], left[0]), r3.Sub(right[i], right[0])
	return vec.Length(r3.Sub(l, r3.Sub(r, r3.Scale(2*r3.Dot(r, normal), normal))))
}

// mirrorNormal turns a mirror's normal in ever smaller steps, 3 degrees first,
// as long as that brings the ways nearer to mirror images.
func mirrorNormal(left, right []r3.Vec, normal r3.Vec) r3.Vec {
	step := max(1, len(left)/mirrorSamples)
	miss := func(n r3.Vec) (sum float64) {
		for i := 0; i < len(left); i += step {
			sum += mirrorMiss(left, right, n, i)
		}
		return sum
	}
	best := miss(normal)
	for _, by := range []float64{0.052, 0.026, 0.013, 0.0065, 0.003} {
		u := r3.Unit(r3.Cross(normal, r3.Vec{X: normal.Y, Y: normal.Z, Z: -normal.X}))
		w := r3.Cross(normal, u)
		for _, d := range []r3.Vec{u, w, r3.Scale(-1, u), r3.Scale(-1, w)} {
			if n := r3.Unit(r3.Add(normal, r3.Scale(by, d))); miss(n) < best {
				normal, best = n, miss(n)
			}
		}
	}
	return normal
}

// mirrorSamples is how many frames of a clip tell the mirror.
const mirrorSamples = 100

// lowestBearer is the lowest part of the figure above both parts of the pair.
func (fig *Figure) lowestBearer(p body.MirrorPair) scene.PartID {
	s := fig.study
	for q := s.Scene.Parts[p.Left].Parent; q != scene.NoPart && fig.Holds(q); q = s.Scene.Parts[q].Parent {
		if s.IsAncestor(q, p.Right) {
			return q
		}
	}
	return fig.Root
}
