package solve_test

import (
	"fmt"
	"math"
	"testing"

	"curvelint/diagnostics/motion/solve"
	"curvelint/parse"
	"curvelint/parse/scene"
)

// TestUSDASplineIsCSSEasing writes the control points of the CSS timing
// functions as knots of a USD spline over 100 frames and 100 degrees.
func TestUSDASplineIsCSSEasing(t *testing.T) {
	const tolerance = 1e-9
	at := []float64{10, 25, 50, 75, 90}
	// CSS Easing Functions Level 1 (W3C), the named keywords; values recomputed
	// by bisection from their control points.
	for _, c := range []struct {
		name           string
		x1, y1, x2, y2 float64
		want           []float64
	}{
		{"ease", 0.25, 0.1, 0.25, 1, []float64{0.0947963057, 0.4085105914, 0.8024033876, 0.9604589783, 0.9943164775}},
		{"ease-in", 0.42, 0, 1, 1, []float64{0.0170266097, 0.0934646507, 0.3153568126, 0.6218618692, 0.8394278458}},
		{"ease-out", 0, 0, 0.58, 1, []float64{0.1605721542, 0.3781381308, 0.6846431874, 0.9065353493, 0.9829733903}},
		{"ease-in-out", 0.42, 0, 0.58, 1, []float64{0.0197224535, 0.1291619310, 0.5, 0.8708380690, 0.9802775465}},
	} {
		slope := func(dy, dx float64) float64 {
			if dx == 0 {
				return 0
			}
			return dy / dx
		}
		src := fmt.Sprintf("#usda 1.0\ndef Xform \"Gull\" {\n    double xformOp:rotateY.spline = {\n"+
			"        0: 0; post curve (%.17g, %.17g),\n        100: 100; pre (%.17g, %.17g),\n    }\n"+
			"    uniform token[] xformOpOrder = [\"xformOp:rotateY\"]\n}\n",
			100*c.x1, slope(c.y1, c.x1), 100*(1-c.x2), slope(1-c.y2, 1-c.x2))
		sc := parse.Parse("gull.usda", []byte(src), scene.ReadOptions{})
		if len(sc.Problems) > 0 || len(sc.Channels) != 1 {
			t.Fatalf("%s: %v, %d channels", c.name, sc.Problems, len(sc.Channels))
		}
		for i, x := range at {
			var got [1]float64
			solve.EvalCurve(&sc.Channels[0].Curve, x, got[:])
			if math.Abs(got[0]/100-c.want[i]) > tolerance {
				t.Errorf("%s at %g: got %.10f, want %.10f", c.name, x, got[0]/100, c.want[i])
			}
		}
	}
}
