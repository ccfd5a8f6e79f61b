package fit

import "math"

// Parabola fits x(t) = a + b t + c t^2 to equally spaced samples, t in samples,
// by least squares, and returns c and the largest residual. It needs at least
// three samples.
func Parabola(x []float64) (c, worst float64) {
	n := float64(len(x))
	if n < 3 {
		return 0, 0
	}
	// Orthogonal polynomials on t = -h..h: 1, t, t^2 - mean.
	h := (n - 1) / 2
	var s0, s1, s2, tt, qq float64
	m := (n*n - 1) / 12
	for i, v := range x {
		t := float64(i) - h
		q := t*t - m
		s0 += v
		s1 += v * t
		s2 += v * q
		tt += t * t
		qq += q * q
	}
	b := s1 / tt
	c = s2 / qq
	for i, v := range x {
		t := float64(i) - h
		worst = max(worst, math.Abs(v-(s0/n+b*t+c*(t*t-m))))
	}
	return c, worst
}
