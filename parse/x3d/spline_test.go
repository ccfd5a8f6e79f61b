package x3d

import (
	"fmt"
	"math"
	"testing"

	"curvelint/parse/scene"
)

// splineScene moves a hook by a spline interpolator with the given fields.
func splineScene(typ, fields, sink string) *scene.Scene {
	src := "#X3D V3.2 utf8\nDEF Hook Transform {} DEF View Viewpoint {}\nDEF Clock TimeSensor { cycleInterval 4 }\n" +
		"DEF Lift " + typ + " { " + fields + " }\n" +
		"ROUTE Clock.fraction_changed TO Lift.set_fraction ROUTE Lift.value_changed TO " + sink + "\n"
	return Parse("spline.x3dv", []byte(src), scene.ReadOptions{})
}

// hermite evaluates a curve between key i and i+1 at the share s of the
// segment: the cubic with values v and tangents t, by the closed form
// (2s^3-3s^2+1) v0 + (-2s^3+3s^2) v1 + (s^3-2s^2+s) t0 + (s^3-s^2) t1.
func hermite(c *scene.Curve, i int, s float64) float64 {
	v0, v1 := c.Values[i], c.Values[i+1]
	t0, t1 := 3*c.Handles.OutV[i], -3*c.Handles.InV[i+1]
	return (2*s*s*s-3*s*s+1)*v0 + (-2*s*s*s+3*s*s)*v1 + (s*s*s-2*s*s+s)*t0 + (s*s*s-s*s)*t1
}

// TestSplineParabola: with equal segments the natural tangents of a parabola
// are its derivative, so that the inner segments are the parabola.
func TestSplineParabola(t *testing.T) {
	s := splineScene("SplinePositionInterpolator", "key [ 0 0.25 0.5 0.75 1 ] keyValue [ 0 0 0, 1 1 0, 2 4 0, 3 9 0, 4 16 0 ]", "Hook.translation")
	if len(s.Channels) != 3 || len(s.Problems) > 0 {
		t.Fatalf("%d channels, %v", len(s.Channels), s.Problems)
	}
	y := &s.Channels[1].Curve
	for _, share := range []float64{0, 0.2, 0.5, 0.9, 1} {
		x := 1 + share
		if got := hermite(y, 1, share); math.Abs(got-x*x) > 1e-12 {
			t.Errorf("at %g: %g, want %g", x, got, x*x)
		}
	}
	if y.Handles.OutV[0] != 0 || y.Handles.InV[4] != 0 {
		t.Errorf("tangents at the ends: %v, %v, want none", y.Handles.OutV[0], y.Handles.InV[4])
	}
}

// TestSplineVelocity: the velocity does not jump where segments of different
// length meet, whether natural, given or normalised.
func TestSplineVelocity(t *testing.T) {
	const points = "key [ 0 0.1 0.6 1 ] keyValue [ 0 0 0, 1 2 0, 4 3 1, 5 3 2 ]"
	for _, more := range []string{
		"", " keyVelocity [ 1 0 0, 2 1 0, 3 1 1, 1 0 0 ]", " keyVelocity [ 1 0 0, 1 0 0 ]",
		" keyVelocity [ 1 0 0, 2 1 0, 3 1 1, 1 0 0 ] normalizeVelocity TRUE",
	} {
		s := splineScene("SplinePositionInterpolator", points+more, "Hook.translation")
		for c := range s.Channels {
			curve := &s.Channels[c].Curve
			h, at := curve.Handles, curve.Times
			for i := 1; i < 3; i++ {
				out, in := h.OutV[i]/(at[i+1]-at[i]), -h.InV[i]/(at[i]-at[i-1])
				if math.Abs(out-in) > 1e-12 {
					t.Errorf("%s: velocity of %s jumps at key %d from %g to %g", more, s.Channels[c].Name, i, in, out)
				}
			}
		}
	}
	s := splineScene("SplinePositionInterpolator", points+" keyVelocity [ 3 0 0, 2 1 0, 3 1 1, 0 4 0 ] normalizeVelocity TRUE", "Hook.translation")
	total := math.Sqrt(5) + math.Sqrt(11) + math.Sqrt(2)
	if got := 3 * s.Channels[0].Curve.Handles.OutV[0]; math.Abs(got-total) > 1e-12 {
		t.Errorf("normalised tangent %g, want the length of the path, %g", got, total)
	}
}

func TestSplineClosed(t *testing.T) {
	s := splineScene("SplineScalarInterpolator", "key [ 0 0.25 0.5 0.75 1 ] keyValue [ 0 1 0 -1 0 ] closed TRUE", "View.fieldOfView")
	if len(s.Channels) != 1 {
		t.Fatalf("%d channels, %v", len(s.Channels), s.Problems)
	}
	s = splineScene("SplinePositionInterpolator", "key [ 0 0.25 0.5 0.75 1 ] keyValue [ 0 0 0, 1 1 0, 0 2 0, -1 1 0, 0 0 0 ] closed TRUE", "Hook.translation")
	h := s.Channels[0].Curve.Handles
	if got := fmt.Sprintf("%.3f %.3f", 3*h.OutV[0], -3*h.InV[4]); got != "1.000 1.000" {
		t.Errorf("tangents at the seam %s, want 1.000 1.000", got)
	}
}

// TestPrecision: columns of a fixed number of decimals and of a fixed number
// of digits.
func TestPrecision(t *testing.T) {
	var fixed, digits precision
	for i := range 100 {
		v := 0.01 + float64(i)
		fixed.add(v, 2)
		d := 3
		if v >= 1 {
			d = 2
		}
		if v >= 10 {
			d = 1
		}
		digits.add(v, d)
	}
	if fixed.step() != 0.01 || fixed.at(50) != 0.01 {
		t.Errorf("two decimals: step %g, at 50 %g", fixed.step(), fixed.at(50))
	}
	if digits.step() != 0.1 || digits.at(50) != 0.1 || digits.at(3) != 0.01 {
		t.Errorf("three digits: step %g, at 50 %g, at 3 %g", digits.step(), digits.at(50), digits.at(3))
	}
	var few precision
	few.add(12, 0)
	few.add(0.125, 3)
	if few.step() != 0.001 {
		t.Errorf("two numbers: step %g", few.step())
	}
	if (&precision{}).step() != 0 {
		t.Error("no number has a step")
	}
}
