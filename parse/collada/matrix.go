package collada

import (
	"math"

	"curvelint/parse/scene"
)

// local returns the product of a stack of static transforms.
func local(ops []scene.Op) scene.Mat4 {
	m := scene.Identity
	for i := range ops {
		n := matrixOf(ops[i].Kind, ops[i].Value)
		var product scene.Mat4
		for r := 0; r < 16; r += 4 {
			for c := range 4 {
				product[r+c] = m[r]*n[c] + m[r+1]*n[4+c] + m[r+2]*n[8+c] + m[r+3]*n[12+c]
			}
		}
		m = product
	}
	return m
}

// matrixOf returns the matrix of one transform element (COLLADA 1.4.1, the
// elements lookat, matrix, rotate, scale, skew and translate).
func matrixOf(kind scene.OpKind, v []float64) scene.Mat4 {
	m := scene.Identity
	switch kind {
	case scene.Translate:
		m[3], m[7], m[11] = v[0], v[1], v[2]
	case scene.Scale:
		m[0], m[5], m[10] = v[0], v[1], v[2]
	case scene.RotateAxis:
		turn(&m, unit(v[0], v[1], v[2]), v[3]*math.Pi/180)
	case scene.Matrix:
		copy(m[:], v)
	case scene.LookAt:
		back := unit(v[0]-v[3], v[1]-v[4], v[2]-v[5])
		side := cross([3]float64{v[6], v[7], v[8]}, back)
		side = unit(side[0], side[1], side[2])
		up := cross(back, side)
		for i := range 3 {
			m[4*i], m[4*i+1], m[4*i+2], m[4*i+3] = side[i], up[i], back[i], v[i]
		}
	case scene.Skew:
		t := math.Tan(v[0] * math.Pi / 180)
		a, b := unit(v[1], v[2], v[3]), unit(v[4], v[5], v[6])
		for i := range 3 {
			for j := range 3 {
				m[4*i+j] += t * b[i] * a[j]
			}
		}
	}
	return m
}

// turn makes m the rotation by an angle in radians about a unit axis
// (Rodrigues' formula). A zero axis turns nothing.
func turn(m *scene.Mat4, axis [3]float64, angle float64) {
	if axis == [3]float64{} {
		return
	}
	s, c := math.Sincos(angle)
	x, y, z := axis[0], axis[1], axis[2]
	m[0], m[1], m[2] = c+x*x*(1-c), x*y*(1-c)-z*s, x*z*(1-c)+y*s
	m[4], m[5], m[6] = y*x*(1-c)+z*s, c+y*y*(1-c), y*z*(1-c)-x*s
	m[8], m[9], m[10] = z*x*(1-c)-y*s, z*y*(1-c)+x*s, c+z*z*(1-c)
}

func unit(x, y, z float64) [3]float64 {
	n := math.Sqrt(x*x + y*y + z*z)
	if n == 0 {
		return [3]float64{}
	}
	return [3]float64{x / n, y / n, z / n}
}

func cross(a, b [3]float64) [3]float64 {
	return [3]float64{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}
