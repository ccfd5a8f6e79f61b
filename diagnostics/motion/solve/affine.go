package solve

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion/vec"
)

// Affine is an affine transform of column vectors: three rows of four, the
// translation in elements 3, 7 and 11.
type Affine [12]float64

// identity changes nothing.
var identity = Identity()

// Identity returns the transform that changes nothing.
func Identity() Affine { return Affine{0: 1, 5: 1, 10: 1} }

// Mul returns a*b: b applies first.
func (a *Affine) Mul(b *Affine) Affine {
	var r Affine
	for i := 0; i < 12; i += 4 {
		x, y, z := a[i], a[i+1], a[i+2]
		r[i] = x*b[0] + y*b[4] + z*b[8]
		r[i+1] = x*b[1] + y*b[5] + z*b[9]
		r[i+2] = x*b[2] + y*b[6] + z*b[10]
		r[i+3] = x*b[3] + y*b[7] + z*b[11] + a[i+3]
	}
	return r
}

// Point returns the image of the point p.
func (a *Affine) Point(p r3.Vec) r3.Vec {
	return r3.Vec{
		X: a[0]*p.X + a[1]*p.Y + a[2]*p.Z + a[3],
		Y: a[4]*p.X + a[5]*p.Y + a[6]*p.Z + a[7],
		Z: a[8]*p.X + a[9]*p.Y + a[10]*p.Z + a[11],
	}
}

// Vector returns the image of the direction v (no translation).
func (a *Affine) Vector(v r3.Vec) r3.Vec {
	return r3.Vec{
		X: a[0]*v.X + a[1]*v.Y + a[2]*v.Z,
		Y: a[4]*v.X + a[5]*v.Y + a[6]*v.Z,
		Z: a[8]*v.X + a[9]*v.Y + a[10]*v.Z,
	}
}

// Origin returns the translation.
func (a *Affine) Origin() r3.Vec { return r3.Vec{X: a[3], Y: a[7], Z: a[11]} }

// det returns the determinant of the linear part: negative for a mirror.
func (a *Affine) det() float64 {
	return a[0]*(a[5]*a[10]-a[6]*a[9]) - a[1]*(a[4]*a[10]-a[6]*a[8]) + a[2]*(a[4]*a[9]-a[5]*a[8])
}

// Scale returns the factor by which the transform scales lengths on average:
// the cube root of the absolute determinant.
func (a *Affine) Scale() float64 { return math.Cbrt(math.Abs(a.det())) }

// Inverse returns the inverse transform; of a singular one, the identity.
func (a *Affine) Inverse() Affine {
	d := a.det()
	if d == 0 || math.IsNaN(d) || math.IsInf(d, 0) {
		return identity
	}
	k := 1 / d
	var r Affine
	r[0], r[1], r[2] = k*(a[5]*a[10]-a[6]*a[9]), k*(a[2]*a[9]-a[1]*a[10]), k*(a[1]*a[6]-a[2]*a[5])
	r[4], r[5], r[6] = k*(a[6]*a[8]-a[4]*a[10]), k*(a[0]*a[10]-a[2]*a[8]), k*(a[2]*a[4]-a[0]*a[6])
	r[8], r[9], r[10] = k*(a[4]*a[9]-a[5]*a[8]), k*(a[1]*a[8]-a[0]*a[9]), k*(a[0]*a[5]-a[1]*a[4])
	t := r.Vector(a.Origin())
	r[3], r[7], r[11] = -t.X, -t.Y, -t.Z
	return r
}

// Quaternion returns the rotation of the transform as a unit quaternion
// w x y z, scale removed column by column. For a mirror the third column is
// turned round first.
//
// Source: S. W. Shepperd, J. Guidance and Control 1 (1978) 223-224: start from
// the largest of the four candidates, which keeps the divisor away from zero.
func (a *Affine) Quaternion() [4]float64 {
	c := func(j int) (x, y, z float64) {
		x, y, z = a[j], a[4+j], a[8+j]
		n := x*x + y*y + z*z
		if math.Abs(n-1) < 1e-13 {
			return x, y, z // already a unit column, as in most rigs
		}
		if n == 0 {
			return 0, 0, 0
		}
		n = 1 / math.Sqrt(n)
		return x * n, y * n, z * n
	}
	m00, m10, m20 := c(0)
	m01, m11, m21 := c(1)
	m02, m12, m22 := c(2)
	if a.det() < 0 {
		m02, m12, m22 = -m02, -m12, -m22
	}
	tr := m00 + m11 + m22
	var q [4]float64
	switch {
	case tr >= m00 && tr >= m11 && tr >= m22:
		s := math.Sqrt(1+tr) * 2
		q = [4]float64{s / 4, (m21 - m12) / s, (m02 - m20) / s, (m10 - m01) / s}
	case m00 >= m11 && m00 >= m22:
		s := math.Sqrt(1+m00-m11-m22) * 2
		q = [4]float64{(m21 - m12) / s, s / 4, (m01 + m10) / s, (m02 + m20) / s}
	case m11 >= m22:
		s := math.Sqrt(1+m11-m00-m22) * 2
		q = [4]float64{(m02 - m20) / s, (m01 + m10) / s, s / 4, (m12 + m21) / s}
	default:
		s := math.Sqrt(1+m22-m00-m11) * 2
		q = [4]float64{(m10 - m01) / s, (m02 + m20) / s, (m12 + m21) / s, s / 4}
	}
	normalise4(q[:])
	return q
}

// RotationStep returns the rotation vector (axis times angle in degrees, in the
// fixed frame) that takes orientation p to orientation q along the short way:
// q * p^-1.
func RotationStep(p, q [4]float64) r3.Vec {
	w := q[0]*p[0] + q[1]*p[1] + q[2]*p[2] + q[3]*p[3]
	x := -q[0]*p[1] + q[1]*p[0] - q[2]*p[3] + q[3]*p[2]
	y := -q[0]*p[2] + q[1]*p[3] + q[2]*p[0] - q[3]*p[1]
	z := -q[0]*p[3] - q[1]*p[2] + q[2]*p[1] + q[3]*p[0]
	if w < 0 {
		w, x, y, z = -w, -x, -y, -z
	}
	var k float64
	if s2 := x*x + y*y + z*z; s2 < smallTurn {
		k = turnSeries(s2)
	} else if s2 < fairTurn {
		k = longTurnSeries(s2)
	} else {
		s := math.Sqrt(s2)
		k = 2 * (180 / math.Pi) * (math.Atan2(s, w) / s)
	}
	return r3.Vec{X: k * x, Y: k * y, Z: k * z}
}

// The squares of the sine of half a turn up to which turnSeries holds, 3.6
// degrees, and longTurnSeries, 11 degrees.
const (
	smallTurn = 1e-3
	fairTurn  = 1e-2
)

// turnSeries returns 2 asin(s)/s in degrees for s2 = s*s below smallTurn, as a
// series: most steps are small, and atan2 is slow.
func turnSeries(s2 float64) float64 {
	return 2 * (180 / math.Pi) * (1 + s2*(1.0/6+s2*(3.0/40+s2*(15.0/336+s2*(105.0/3456)))))
}

// longTurnSeries is turnSeries for s2 below fairTurn.
func longTurnSeries(s2 float64) float64 {
	return 2 * (180 / math.Pi) * (1 + s2*(1.0/6+s2*(3.0/40+s2*(15.0/336+s2*(105.0/3456+
		s2*(945.0/42240+s2*(10395.0/599040+s2*(135135.0/9676800))))))))
}

// AngleTo returns the angle in degrees of the rotation between the orientations
// of two transforms.
func (a *Affine) AngleTo(b *Affine) float64 {
	return vec.Length(RotationStep(a.Quaternion(), b.Quaternion()))
}
