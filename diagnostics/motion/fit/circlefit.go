package fit

import "math"

// The geometric fit ends when a step changes nothing in this share of the
// radius, or after so many steps.
const (
	circleTolerance = 1e-12
	circleSteps     = 100
)

// geometricCircle returns the circle with the least sum of squared distances
// from the points,
//
//	sum (|p[i] - c| - r)^2
//
// by damped Gauss-Newton steps (Levenberg-Marquardt) from the given circle. It
// returns the best circle found; the given one when nothing improves it. x and
// y must have the same length (not checked).
//
// W. Gander, G. H. Golub, R. Strebel, BIT 34 (1994), section 3, for the problem;
// D. W. Marquardt, Journal of the Society for Industrial and Applied Mathematics
// 11 (1963), pages 431-441, for the damping.
func geometricCircle(x, y []float64, cx, cy, r float64) (bx, by, br float64) {
	cost, damp := circleCost(x, y, cx, cy, r), 1e-3
	for range circleSteps {
		step, ok := circleStep(x, y, cx, cy, r, damp)
		if !ok {
			break
		}
		nx, ny, nr := cx+step[0], cy+step[1], r+step[2]
		n := circleCost(x, y, nx, ny, nr)
		if !(n < cost) || nr <= 0 {
			if damp *= 10; damp > 1e12 {
				break
			}
			continue
		}
		moved := math.Abs(step[0]) + math.Abs(step[1]) + math.Abs(step[2])
		cx, cy, r, cost, damp = nx, ny, nr, n, damp/10
		if moved <= circleTolerance*r {
			break
		}
	}
	return cx, cy, r
}

func circleCost(x, y []float64, cx, cy, r float64) float64 {
	sum := 0.0
	for i := range x {
		d := math.Sqrt((x[i]-cx)*(x[i]-cx)+(y[i]-cy)*(y[i]-cy)) - r
		sum += d * d
	}
	return sum
}

// circleStep solves (J'J + damp diag J'J) step = -J'd for the residuals
// d[i] = |p[i] - c| - r, whose derivatives are the rows (-u, -v, -1) with (u, v)
// the unit vector from the centre to the point.
func circleStep(x, y []float64, cx, cy, r, damp float64) (step [3]float64, ok bool) {
	var uu, uv, vv, u1, v1, du, dv, d1 float64
	for i := range x {
		u, v := x[i]-cx, y[i]-cy
		h := math.Sqrt(u*u + v*v)
		if h == 0 {
			continue
		}
		u, v = u/h, v/h
		d := h - r
		uu, uv, vv = uu+u*u, uv+u*v, vv+v*v
		u1, v1 = u1+u, v1+v
		du, dv, d1 = du+d*u, dv+d*v, d1+d
	}
	k := 1 + damp
	return solve3([3][3]float64{{uu * k, uv, u1}, {uv, vv * k, v1}, {u1, v1, float64(len(x)) * k}}, [3]float64{du, dv, d1})
}

// solve3 solves the symmetric system m x = b by Cholesky factors; ok is false
// unless m is positive definite.
func solve3(m [3][3]float64, b [3]float64) (x [3]float64, ok bool) {
	for j := range 3 {
		for k := range j {
			m[j][j] -= m[j][k] * m[j][k]
		}
		if !(m[j][j] > 0) {
			return x, false
		}
		m[j][j] = math.Sqrt(m[j][j])
		for i := j + 1; i < 3; i++ {
			for k := range j {
				m[i][j] -= m[i][k] * m[j][k]
			}
			m[i][j] /= m[j][j]
		}
	}
	for i := range 3 {
		x[i] = b[i]
		for k := range i {
			x[i] -= m[i][k] * x[k]
		}
		x[i] /= m[i][i]
	}
	for i := 2; i >= 0; i-- {
		for k := i + 1; k < 3; k++ {
			x[i] -= m[k][i] * x[k]
		}
		x[i] /= m[i][i]
	}
	return x, true
}
