package chart

import (
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
)

// plane is the plane in which a path is drawn: right and up are of length 1 and
// at right angles.
type plane struct{ right, up r3.Vec }

// bestPlane returns the plane through which a path lies best, the one along the
// two largest singular vectors of its positions about their centroid, turned so
// that up is as near as it can be to the given direction.
func bestPlane(path []r3.Vec, up r3.Vec) plane {
	var c r3.Vec
	for _, p := range path {
		c = r3.Add(c, r3.Scale(1/float64(len(path)), p))
	}
	m := mat.NewDense(max(len(path), 3), 3, nil)
	for i, p := range path {
		d := r3.Sub(p, c)
		m.SetRow(i, []float64{d.X, d.Y, d.Z})
	}
	var svd mat.SVD
	if !svd.Factorize(m, mat.SVDThin) {
		return standing(r3.Vec{Z: 1}, up)
	}
	var v mat.Dense
	svd.VTo(&v)
	a := r3.Vec{X: v.At(0, 0), Y: v.At(1, 0), Z: v.At(2, 0)}
	b := r3.Vec{X: v.At(0, 1), Y: v.At(1, 1), Z: v.At(2, 1)}
	return standing(r3.Cross(a, b), up)
}

// standing returns the plane with a normal, its up as near as it can be to the
// given one. A normal has no front: the one that looks along the scene's
// positive axes is taken, so that the same path is always drawn the same way
// round.
func standing(normal, up r3.Vec) plane {
	normal = r3.Unit(normal)
	for _, v := range []float64{normal.Z, normal.X, normal.Y} {
		if v > 1e-6 {
			break
		}
		if v < -1e-6 {
			normal = r3.Scale(-1, normal)
			break
		}
	}
	u := r3.Sub(up, r3.Scale(r3.Dot(up, normal), normal))
	for _, other := range []r3.Vec{{Z: -1}, {X: 1}} {
		if r3.Norm(u) > 1e-3 {
			break
		}
		u = r3.Sub(other, r3.Scale(r3.Dot(other, normal), normal))
	}
	u = r3.Unit(u)
	return plane{right: r3.Cross(u, normal), up: u}
}

// flat returns where a position lies in the plane.
func (p plane) flat(v r3.Vec) point { return point{r3.Dot(v, p.right), r3.Dot(v, p.up)} }
