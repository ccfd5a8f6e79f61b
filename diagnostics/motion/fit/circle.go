package fit

import (
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion/vec"
)

// Circle is the circle in space that fits a path best.
type Circle struct {
	Centre r3.Vec
	Normal r3.Vec // of length 1; the path goes round it counter-clockwise
	Radius float64
	// Worst is the largest distance of a position from the circle and RMS the
	// root of the mean square of these distances.
	Worst, RMS float64
	// Sweep is the angle the path covers around the centre in degrees.
	Sweep float64
}

// straightest is the share of a path's length by which it must leave a straight
// line, as singular values, for a circle to be looked for.
const straightest = 1e-7

// CircleOf returns the circle whose distances from the points have the least
// sum of squares within the points' best plane: the plane through their centroid
// along the two largest singular vectors, and in it the geometric fit, started
// from the algebraic one.
//
// ok is false for fewer than three points and for points on a straight line or
// in one place. Coordinates must be finite (not checked).
func CircleOf(p []r3.Vec) (c Circle, ok bool) {
	if len(p) < 3 {
		return c, false
	}
	mid, e1, e2, size := bestPlane(p)
	if size <= 0 {
		return c, false
	}
	x, y := make([]float64, len(p)), make([]float64, len(p))
	for i, q := range p {
		d := r3.Scale(1/size, r3.Sub(q, mid))
		x[i], y[i] = r3.Dot(d, e1), r3.Dot(d, e2)
	}
	cx, cy, r, ok := algebraicCircle(x, y)
	if !ok {
		return c, false
	}
	cx, cy, r = geometricCircle(x, y, cx, cy, r)
	c.Centre = r3.Add(mid, r3.Scale(size, r3.Add(r3.Scale(cx, e1), r3.Scale(cy, e2))))
	c.Radius = r * size
	c.Normal = r3.Cross(e1, e2)
	c.measure(p)
	return c, vec.Finite(c.Centre) && c.Radius > 0
}

// bestPlane returns the centroid of the points, two unit vectors that span the
// plane nearest to them, and their spread along the first (the largest singular
// value over the root of their number); 0 when they lie on a line.
func bestPlane(p []r3.Vec) (mid, e1, e2 r3.Vec, size float64) {
	for _, q := range p {
		mid = r3.Add(mid, r3.Sub(q, p[0]))
	}
	mid = r3.Add(p[0], r3.Scale(1/float64(len(p)), mid))
	m := mat.NewDense(len(p), 3, nil)
	for i, q := range p {
		d := r3.Sub(q, mid)
		m.SetRow(i, []float64{d.X, d.Y, d.Z})
	}
	var svd mat.SVD
	if !vec.Finite(mid) || !svd.Factorize(m, mat.SVDFullV) {
		return mid, e1, e2, 0
	}
	s := svd.Values(nil)
	if !(s[1] > straightest*s[0]) || math.IsInf(s[0], 0) {
		return mid, e1, e2, 0
	}
	var v mat.Dense
	svd.VTo(&v)
	e1 = r3.Vec{X: v.At(0, 0), Y: v.At(1, 0), Z: v.At(2, 0)}
	e2 = r3.Vec{X: v.At(0, 1), Y: v.At(1, 1), Z: v.At(2, 1)}
	return mid, e1, e2, s[0] / math.Sqrt(float64(len(p)))
}

// measure sets the fit's distances and sweep, and turns the normal so that the
// sweep is positive.
func (c *Circle) measure(p []r3.Vec) {
	sum, sweep := 0.0, 0.0
	var before r3.Vec
	for i, q := range p {
		d := r3.Sub(q, c.Centre)
		up := r3.Dot(d, c.Normal)
		in := r3.Sub(d, r3.Scale(up, c.Normal))
		off := math.Hypot(up, vec.Length(in)-c.Radius)
		c.Worst = max(c.Worst, off)
		sum += off * off
		if i > 0 {
			sweep += math.Atan2(r3.Dot(r3.Cross(before, in), c.Normal), r3.Dot(before, in))
		}
		before = in
	}
	c.RMS = math.Sqrt(sum / float64(len(p)))
	c.Sweep = math.Abs(sweep) / vec.Degree
	if sweep < 0 {
		c.Normal = r3.Scale(-1, c.Normal)
	}
}

// algebraicCircle returns the circle
//
//	a (x^2 + y^2) + b x + c y + d = 0, |(a, b, c, d)| = 1
//
// whose left sides at the points have the least sum of squares: the singular
// vector of the smallest singular value of the rows (x^2+y^2, x, y, 1). It
// depends on where the origin is and prefers small circles; geometricCircle
// mends that. ok is false for fewer than three points, unequal lengths, and
// when the best fit is a straight line.
//
// W. Gander, G. H. Golub, R. Strebel, "Least-squares fitting of circles and
// ellipses", BIT 34 (1994), pages 558-578.
func algebraicCircle(x, y []float64) (cx, cy, r float64, ok bool) {
	if len(x) < 3 || len(x) != len(y) {
		return 0, 0, 0, false
	}
	m := mat.NewDense(len(x), 4, nil)
	for i := range x {
		m.SetRow(i, []float64{x[i]*x[i] + y[i]*y[i], x[i], y[i], 1})
	}
	var svd mat.SVD
	if !svd.Factorize(m, mat.SVDFullV) {
		return 0, 0, 0, false
	}
	var v mat.Dense
	svd.VTo(&v)
	a, b, c, d := v.At(0, 3), v.At(1, 3), v.At(2, 3), v.At(3, 3)
	if math.Abs(a) < 1e-12 {
		return 0, 0, 0, false
	}
	cx, cy = -b/(2*a), -c/(2*a)
	square := cx*cx + cy*cy - d/a
	return cx, cy, math.Sqrt(square), square > 0
}
