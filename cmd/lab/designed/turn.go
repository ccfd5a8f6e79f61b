package designed

import (
	"math"

	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

const degrees = math.Pi / 180

// Rotate turns a vector by a unit quaternion.
func Rotate(q quat.Number, v r3.Vec) r3.Vec {
	u := r3.Vec{X: q.Imag, Y: q.Jmag, Z: q.Kmag}
	t := r3.Scale(2, r3.Cross(u, v))
	return r3.Add(v, r3.Add(r3.Scale(q.Real, t), r3.Cross(u, t)))
}

// About is a turn by angle degrees about a coordinate axis.
func About(axis int, angle float64) quat.Number {
	sin, cos := math.Sincos(angle * degrees / 2)
	q := quat.Number{Real: cos}
	switch axis {
	case X:
		q.Imag = sin
	case Y:
		q.Jmag = sin
	default:
		q.Kmag = sin
	}
	return q
}

// Turned is the turn about X, then Y, then Z by the given degrees.
func Turned(e [3]float64) quat.Number {
	return quat.Mul(About(Z, e[Z]), quat.Mul(About(Y, e[Y]), About(X, e[X])))
}

// Order is the order in which three turns are multiplied, as axes: {Z, Y, X} is
// Rz*Ry*Rx, which turns about X first.
type Order [3]int

// The orders that formats use most.
var (
	OrderZYX = Order{Z, Y, X}
	OrderXYZ = Order{X, Y, Z}
	OrderZXY = Order{Z, X, Y}
)

// String returns the axes' letters in order of multiplication.
func (o Order) String() string {
	return string([]byte{"XYZ"[o[0]], "XYZ"[o[1]], "XYZ"[o[2]]})
}

// Angles returns the three angles in degrees, by axis (X, Y, Z), whose turns
// multiplied in the given order make q. Of the many sets of angles that do, it
// returns the one nearest to near, so that a curve through frames has no jumps.
func Angles(q quat.Number, o Order, near [3]float64) [3]float64 {
	i, j, k := o[0], o[1], o[2]
	e := 1.0
	if (j-i+3)%3 == 2 {
		e = -1
	}
	m := matrix(q)
	b := math.Asin(max(-1, min(1, e*m[i][k]))) / degrees
	var a, c float64
	if math.Abs(m[i][k]) > 1-1e-12 {
		// Both outer axes lie on each other: keep the first where it was.
		a = near[i]
		c = math.Atan2(e*m[j][i], m[j][j])/degrees - e*sign(m[i][k])*e*a
	} else {
		a = math.Atan2(-e*m[j][k], m[k][k]) / degrees
		c = math.Atan2(-e*m[i][j], m[i][i]) / degrees
	}
	first := unwound(o, a, b, c, near)
	other := unwound(o, a+180, 180-b, c+180, near)
	if apart(other, near) < apart(first, near)-1e-9 {
		return other
	}
	return first
}

func sign(v float64) float64 {
	if v < 0 {
		return -1
	}
	return 1
}

// unwound places three angles by axis and adds whole turns until each is within
// half a turn of near.
func unwound(o Order, a, b, c float64, near [3]float64) [3]float64 {
	var out [3]float64
	out[o[0]], out[o[1]], out[o[2]] = a, b, c
	for x := range out {
		out[x] += 360 * math.Round((near[x]-out[x])/360)
	}
	return out
}

func apart(a, b [3]float64) float64 {
	return math.Abs(a[0]-b[0]) + math.Abs(a[1]-b[1]) + math.Abs(a[2]-b[2])
}

// matrix returns the rotation matrix of a unit quaternion, for column vectors.
func matrix(q quat.Number) [3][3]float64 {
	w, x, y, z := q.Real, q.Imag, q.Jmag, q.Kmag
	return [3][3]float64{
		{1 - 2*(y*y+z*z), 2 * (x*y - w*z), 2 * (x*z + w*y)},
		{2 * (x*y + w*z), 1 - 2*(x*x+z*z), 2 * (y*z - w*x)},
		{2 * (x*z - w*y), 2 * (y*z + w*x), 1 - 2*(x*x+y*y)},
	}
}

// fromBasis returns the rotation that takes the coordinate axes to the three
// given unit vectors, which must be at right angles and right-handed.
func fromBasis(a, b, c r3.Vec) quat.Number {
	tr := a.X + b.Y + c.Z
	var q quat.Number
	switch {
	case tr > 0:
		q = quat.Number{Real: 1 + tr, Imag: b.Z - c.Y, Jmag: c.X - a.Z, Kmag: a.Y - b.X}
	case a.X >= b.Y && a.X >= c.Z:
		q = quat.Number{Real: b.Z - c.Y, Imag: 1 + a.X - b.Y - c.Z, Jmag: a.Y + b.X, Kmag: c.X + a.Z}
	case b.Y >= c.Z:
		q = quat.Number{Real: c.X - a.Z, Imag: a.Y + b.X, Jmag: 1 - a.X + b.Y - c.Z, Kmag: b.Z + c.Y}
	default:
		q = quat.Number{Real: a.Y - b.X, Imag: c.X + a.Z, Jmag: b.Z + c.Y, Kmag: 1 - a.X - b.Y + c.Z}
	}
	return quat.Scale(1/quat.Abs(q), q)
}

// AxisAngle returns the unit axis and the angle in radians, 0 to pi, of the turn
// q; for no turn at all the axis is Z.
func AxisAngle(q quat.Number) (axis r3.Vec, angle float64) {
	if q.Real < 0 {
		q = quat.Scale(-1, q)
	}
	v := r3.Vec{X: q.Imag, Y: q.Jmag, Z: q.Kmag}
	n := r3.Norm(v)
	if n < 1e-12 {
		return r3.Vec{Z: 1}, 0
	}
	return r3.Scale(1/n, v), 2 * math.Atan2(n, q.Real)
}

// Angle is the angle between two turns in degrees, 0 to 180.
func Angle(a, b quat.Number) float64 {
	_, angle := AxisAngle(quat.Mul(b, quat.Conj(a)))
	return angle / degrees
}
