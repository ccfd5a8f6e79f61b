package solve

import (
	"math"

	"curvelint/diagnostics/motion/vec"
	"curvelint/parse/scene"
)

// applyOp multiplies the op with components v (static or sampled, as many as
// the op's width) onto m from the right: m = m * op.
func applyOp(m *Affine, kind scene.OpKind, inverse bool, v []float64) {
	if inverse {
		applyInverse(m, kind, v)
		return
	}
	switch kind {
	case scene.Translate:
		translate(m, v[0], v[1], v[2])
	case scene.TranslateX:
		translate(m, v[0], 0, 0)
	case scene.TranslateY:
		translate(m, 0, v[0], 0)
	case scene.TranslateZ:
		translate(m, 0, 0, v[0])
	case scene.Scale:
		scale(m, v[0], v[1], v[2])
	case scene.ScaleX:
		scale(m, v[0], 1, 1)
	case scene.ScaleY:
		scale(m, 1, v[0], 1)
	case scene.ScaleZ:
		scale(m, 1, 1, v[0])
	case scene.RotateX:
		rotate(m, 1, 2, v[0])
	case scene.RotateY:
		rotate(m, 2, 0, v[0])
	case scene.RotateZ:
		rotate(m, 0, 1, v[0])
	case scene.RotateXYZ, scene.RotateXZY, scene.RotateYXZ, scene.RotateYZX, scene.RotateZXY, scene.RotateZYX:
		o := eulerOrder[kind-scene.RotateXYZ]
		for i := 2; i >= 0; i-- { // the axis named first turns first: it stands last
			a := o[i]
			rotate(m, (a+1)%3, (a+2)%3, v[a])
		}
	case scene.Orient:
		mulLinear(m, quaternionMatrix(v))
	case scene.RotateAxis:
		mulLinear(m, axisMatrix(v[0], v[1], v[2], v[3]))
	case scene.Matrix:
		b := Affine(v[:12])
		*m = m.Mul(&b)
	case scene.Skew:
		b := skewMatrix(v)
		*m = m.Mul(&b)
	case scene.LookAt:
		b := lookAtMatrix(v)
		*m = m.Mul(&b)
	}
}

// eulerOrder lists for RotateXYZ and its siblings the axes in turning order.
var eulerOrder = [6][3]int{{0, 1, 2}, {0, 2, 1}, {1, 0, 2}, {1, 2, 0}, {2, 0, 1}, {2, 1, 0}}

// applyInverse multiplies the inverse of the op onto m from the right.
func applyInverse(m *Affine, kind scene.OpKind, v []float64) {
	switch kind {
	case scene.Translate:
		translate(m, -v[0], -v[1], -v[2])
	default:
		b := identity
		applyOp(&b, kind, false, v)
		b = b.Inverse()
		*m = m.Mul(&b)
	}
}

func translate(m *Affine, x, y, z float64) {
	m[3] += m[0]*x + m[1]*y + m[2]*z
	m[7] += m[4]*x + m[5]*y + m[6]*z
	m[11] += m[8]*x + m[9]*y + m[10]*z
}

func scale(m *Affine, x, y, z float64) {
	for i := 0; i < 12; i += 4 {
		m[i] *= x
		m[i+1] *= y
		m[i+2] *= z
	}
}

// rotate multiplies a turn by deg degrees in the plane from axis a to axis b.
func rotate(m *Affine, a, b int, deg float64) {
	if deg == 0 {
		return
	}
	s, c := math.Sincos(deg * vec.Degree)
	for i := 0; i < 12; i += 4 {
		x, y := m[i+a], m[i+b]
		m[i+a] = c*x + s*y
		m[i+b] = c*y - s*x
	}
}

// mulLinear multiplies the 3x3 matrix r (row-major) onto m from the right.
func mulLinear(m *Affine, r [9]float64) {
	for i := 0; i < 12; i += 4 {
		x, y, z := m[i], m[i+1], m[i+2]
		m[i] = x*r[0] + y*r[3] + z*r[6]
		m[i+1] = x*r[1] + y*r[4] + z*r[7]
		m[i+2] = x*r[2] + y*r[5] + z*r[8]
	}
}

// quaternionMatrix is the rotation of the quaternion q (w x y z), normalised.
func quaternionMatrix(q []float64) [9]float64 {
	w, x, y, z := q[0], q[1], q[2], q[3]
	n := w*w + x*x + y*y + z*z
	if n == 0 {
		return [9]float64{1, 0, 0, 0, 1, 0, 0, 0, 1}
	}
	s := 2 / n
	return [9]float64{
		1 - s*(y*y+z*z), s * (x*y - w*z), s * (x*z + w*y),
		s * (x*y + w*z), 1 - s*(x*x+z*z), s * (y*z - w*x),
		s * (x*z - w*y), s * (y*z + w*x), 1 - s*(x*x+y*y),
	}
}

// axisMatrix is the rotation by deg degrees about the axis (x, y, z), which
// need not have unit length; a zero axis gives no rotation.
func axisMatrix(x, y, z, deg float64) [9]float64 {
	n := math.Sqrt(x*x + y*y + z*z)
	if n == 0 {
		return [9]float64{1, 0, 0, 0, 1, 0, 0, 0, 1}
	}
	s, c := math.Sincos(deg * vec.Degree / 2)
	s /= n
	return quaternionMatrix([]float64{c, s * x, s * y, s * z})
}

// skewMatrix is the COLLADA skew: v holds an angle in degrees, the axis whose
// points slide by the tangent of the angle and the axis along which they slide
// (COLLADA 1.4.1, element skew: the first axis turns towards the second).
func skewMatrix(v []float64) Affine {
	t := math.Tan(v[0] * vec.Degree)
	a := unit3(v[1], v[2], v[3])
	b := unit3(v[4], v[5], v[6])
	m := identity
	for i := range 3 {
		for j := range 3 {
			m[4*i+j] += t * b[i] * a[j]
		}
	}
	return m
}

// lookAtMatrix is the COLLADA lookat: v holds eye, interest and up; the result
// takes the node's -Z to the line of sight and its +Y towards up.
func lookAtMatrix(v []float64) Affine {
	z := unit3(v[0]-v[3], v[1]-v[4], v[2]-v[5])
	up := [3]float64{v[6], v[7], v[8]}
	xc := cross3(up, z)
	x := unit3(xc[0], xc[1], xc[2])
	y := cross3(z, x)
	return Affine{x[0], y[0], z[0], v[0], x[1], y[1], z[1], v[1], x[2], y[2], z[2], v[2]}
}

func unit3(x, y, z float64) [3]float64 {
	n := math.Sqrt(x*x + y*y + z*z)
	if n == 0 {
		return [3]float64{}
	}
	return [3]float64{x / n, y / n, z / n}
}

func cross3(a, b [3]float64) [3]float64 {
	return [3]float64{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}
