package chart

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// A circle in a slanted plane stays a circle in its own plane, with up up.
func TestBestPlane(t *testing.T) {
	a, b := r3.Unit(r3.Vec{X: 1, Y: 0.2, Z: 0.3}), r3.Vec{}
	b = r3.Unit(r3.Cross(r3.Vec{X: -0.3, Y: 0.1, Z: 0.9}, a))
	var path []r3.Vec
	for i := range 40 {
		s, c := math.Sincos(float64(i) / 8)
		path = append(path, r3.Add(r3.Vec{X: 5, Y: 7, Z: -2}, r3.Add(r3.Scale(c, a), r3.Scale(s, b))))
	}
	p := bestPlane(path, r3.Vec{Y: 1})
	centre := p.flat(r3.Vec{X: 5, Y: 7, Z: -2})
	for i, v := range path {
		q := p.flat(v)
		if r := math.Hypot(q.x-centre.x, q.y-centre.y); math.Abs(r-1) > 1e-9 {
			t.Fatalf("position %d is %g from the centre, want 1", i, r)
		}
	}
	if p.up.Y <= 0 {
		t.Errorf("up is %v", p.up)
	}
}

// A path without an extent still has a plane.
func TestBestPlaneOfNothing(t *testing.T) {
	for _, path := range [][]r3.Vec{nil, {{}}, {{X: 1}, {X: 1}}, {{Y: 1}, {Y: 2}, {Y: 3}}} {
		p := bestPlane(path, r3.Vec{Y: 1})
		if n := r3.Norm(p.up) * r3.Norm(p.right); math.Abs(n-1) > 1e-9 {
			t.Errorf("%v: %+v", path, p)
		}
	}
}

// Steps are 1, 2 or 5 times a power of ten, and not more of them than asked.
func TestNiceStep(t *testing.T) {
	for _, tt := range []struct {
		span float64
		n    int
		want float64
	}{{10, 10, 1}, {10, 9, 2}, {95, 10, 10}, {0.87, 9, 0.1}, {0, 4, 1}, {math.Inf(1), 4, 1}, {31, 4, 10}, {60, 4, 20}} {
		if got := niceStep(tt.span, tt.n); math.Abs(got-tt.want) > 1e-12 {
			t.Errorf("niceStep(%g, %d) = %g, want %g", tt.span, tt.n, got, tt.want)
		}
	}
}
