package fit

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion/vec"
)

// Printed digits of the source.
const printed = 5e-5

// From W. Gander, G. H. Golub, R. Strebel, "Least-squares fitting of circles and
// ellipses", BIT 34 (1994), pages 558-578.
var ganderX, ganderY = []float64{1, 2, 5, 7, 9, 3}, []float64{7, 6, 8, 7, 5, 7}

func about(a, b, tolerance float64) bool { return math.Abs(a-b) <= tolerance }

// arc goes round a circle of radius r through an angle in degrees in so many steps,
// in a tilted plane.
func arc(steps int, r, degrees float64) []r3.Vec {
	e1, e2 := r3.Unit(r3.Vec{X: 1, Y: 2, Z: 3}), r3.Unit(r3.Vec{X: 2, Y: -1})
	p := make([]r3.Vec, steps+1)
	for i := range p {
		a := degrees * vec.Degree * float64(i) / float64(steps)
		p[i] = r3.Add(r3.Scale(r*math.Cos(a), e1), r3.Scale(r*math.Sin(a), e2))
	}
	return p
}

func TestAlgebraicCircle(t *testing.T) {
	x, y, r, ok := algebraicCircle(ganderX, ganderY)
	if !ok || !about(x, 5.3794, printed) || !about(y, 7.2532, printed) || !about(r, 3.0370, printed) {
		t.Errorf("centre (%.4f, %.4f), radius %.4f, %v", x, y, r, ok)
	}
}

func TestGeometricCircle(t *testing.T) {
	x, y, r := geometricCircle(ganderX, ganderY, 5.3794, 7.2532, 3.0370)
	if !about(x, 4.7398, printed) || !about(y, 2.9835, printed) || !about(r, 4.7142, printed) {
		t.Errorf("centre (%.4f, %.4f), radius %.4f", x, y, r)
	}
}

// The same points in a tilted plane far from the origin.
func TestCircleInSpace(t *testing.T) {
	e1, e2, far := r3.Unit(r3.Vec{X: 1, Y: 1, Z: 1}), r3.Unit(r3.Vec{X: 1, Y: -1}), r3.Vec{X: 1e6, Y: -2e6, Z: 5e5}
	var p []r3.Vec
	for i := range ganderX {
		p = append(p, r3.Add(far, r3.Add(r3.Scale(ganderX[i], e1), r3.Scale(ganderY[i], e2))))
	}
	c, ok := CircleOf(p)
	d := r3.Sub(c.Centre, far)
	if !ok || !about(r3.Dot(d, e1), 4.7398, printed) || !about(r3.Dot(d, e2), 2.9835, printed) || !about(c.Radius, 4.7142, printed) {
		t.Errorf("%+v %v", c, ok)
	}
	if !about(math.Abs(r3.Dot(c.Normal, r3.Cross(e1, e2))), 1, 1e-9) {
		t.Errorf("normal %v", c.Normal)
	}
}

func TestCircleOfAnArc(t *testing.T) {
	for _, steps := range []int{24, 25, 30, 120} {
		for _, degrees := range []float64{10, 45, 90, 200, 350} {
			p := arc(steps, 0.3, degrees)
			c, ok := CircleOf(p)
			if !ok || !about(c.Radius, 0.3, 1e-8) || vec.Length(c.Centre) > 1e-8 || c.Worst > 1e-8 || !about(c.Sweep, degrees, 1e-5) {
				t.Errorf("%d steps: %g degrees: %+v %v", steps, degrees, c, ok)
			}
			step := r3.Cross(p[0], p[1])
			if r3.Dot(step, c.Normal) <= 0 {
				t.Errorf("the path goes round %v clockwise", c.Normal)
			}
		}
	}
}

func TestNoCircle(t *testing.T) {
	line := r3.Vec{X: 3, Y: -1, Z: 2}
	for name, p := range map[string][]r3.Vec{
		"nothing":        nil,
		"two points":     {{}, line},
		"one place":      {line, line, line, line},
		"a line":         {{}, line, r3.Scale(2, line), r3.Scale(5, line)},
		"a line far off": {{X: 1e6}, {X: 1e6 + 1}, {X: 1e6 + 2}, {X: 1e6 + 3}},
	} {
		if c, ok := CircleOf(p); ok {
			t.Errorf("%s: %+v", name, c)
		}
	}
}

func TestCircleDistances(t *testing.T) {
	var p []r3.Vec
	for i := range 25 {
		s := float64(i) / 24
		p = append(p, r3.Vec{X: math.Cos(4 * s), Y: math.Sin(4 * s)})
	}
	p[12].Z = 0.01
	c, ok := CircleOf(p)
	if !ok || !about(c.Worst, 0.01, 2e-3) || !about(c.RMS, 0.01/5, 3e-4) {
		t.Errorf("%+v", c)
	}
}
