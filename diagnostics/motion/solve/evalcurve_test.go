package solve

import (
	"math"
	"testing"

	"curvelint/diagnostics/motion/vec"
	"curvelint/parse/scene"
)

// easing makes a curve from (0, 0) to (1, 1) with the control points of a CSS
// cubic-bezier(x1, y1, x2, y2).
func easing(x1, y1, x2, y2 float64) *scene.Curve {
	return &scene.Curve{
		Times: []float64{0, 1}, Values: []float64{0, 1}, Stride: 1, Default: scene.Bezier,
		Handles: &scene.Handles{OutT: []float64{x1, 0}, OutV: []float64{y1, 0}, InT: []float64{0, x2 - 1}, InV: []float64{0, y2 - 1}},
	}
}

func TestBezierIsCSSEasing(t *testing.T) {
	const tolerance = 1e-9
	at := []float64{0.1, 0.25, 0.5, 0.75, 0.9}
	// CSS Easing Functions Level 1 (W3C), the named keywords; values recomputed
	// by bisection from their control points.
	for _, c := range []struct {
		name  string
		curve *scene.Curve
		want  []float64
	}{
		{"ease", easing(0.25, 0.1, 0.25, 1), []float64{0.0947963057, 0.4085105914, 0.8024033876, 0.9604589783, 0.9943164775}},
		{"ease-in", easing(0.42, 0, 1, 1), []float64{0.0170266097, 0.0934646507, 0.3153568126, 0.6218618692, 0.8394278458}},
		{"ease-out", easing(0, 0, 0.58, 1), []float64{0.1605721542, 0.3781381308, 0.6846431874, 0.9065353493, 0.9829733903}},
		{"ease-in-out", easing(0.42, 0, 0.58, 1), []float64{0.0197224535, 0.1291619310, 0.5, 0.8708380690, 0.9802775465}},
	} {
		for i, x := range at {
			var got [1]float64
			EvalCurve(c.curve, x, got[:])
			if math.Abs(got[0]-c.want[i]) > tolerance {
				t.Errorf("%s at %g: got %.10f, want %.10f", c.name, x, got[0], c.want[i])
			}
		}
	}
}

func TestHermiteSegment(t *testing.T) {
	// Slopes 2 and -1 over a segment of 4: closed form of the cubic Hermite
	// basis (glTF 2.0, Appendix C).
	m0, m1, d := 2.0, -1.0, 4.0
	c := &scene.Curve{
		Times: []float64{10, 14}, Values: []float64{1, 5}, Stride: 1, Default: scene.Bezier,
		Handles: &scene.Handles{OutV: []float64{m0 * d / 3, 0}, InV: []float64{0, -m1 * d / 3}},
	}
	for _, s := range []float64{0.1, 0.5, 0.8} {
		want := (2*s*s*s-3*s*s+1)*1 + d*(s*s*s-2*s*s+s)*m0 + (-2*s*s*s+3*s*s)*5 + d*(s*s*s-s*s)*m1
		var got [1]float64
		EvalCurve(c, 10+s*d, got[:])
		if math.Abs(got[0]-want) > 1e-12 {
			t.Errorf("at %g: got %g, want %g", s, got[0], want)
		}
	}
}

func TestExtrapolation(t *testing.T) {
	curve := func(pre, post scene.Extrap) *scene.Curve {
		return &scene.Curve{Times: []float64{0, 1, 3}, Values: []float64{0, 2, 3}, Stride: 1, Pre: pre, Post: post, PreSlope: 5, PostSlope: -1}
	}
	for _, c := range []struct {
		name string
		how  scene.Extrap
		t    float64
		want float64
		ok   bool
	}{
		{"held before", scene.ExtrapHeld, -2, 0, true},
		{"held after", scene.ExtrapHeld, 9, 3, true},
		{"linear before", scene.ExtrapLinear, -1, -2, true},
		{"linear after", scene.ExtrapLinear, 5, 4, true},
		{"sloped before", scene.ExtrapSloped, -1, -5, true},
		{"sloped after", scene.ExtrapSloped, 5, 1, true},
		{"reset", scene.LoopReset, 3.5, 1, true},
		{"reset before", scene.LoopReset, -2, 2, true},
		{"repeat", scene.LoopRepeat, 4, 5, true},
		{"repeat twice", scene.LoopRepeat, 7, 8, true},
		{"oscillate", scene.LoopOscillate, 4, 2.5, true},
		{"oscillate before", scene.LoopOscillate, -1, 2, true},
		{"none", scene.ExtrapNone, 4, 0, false},
	} {
		var got [1]float64
		ok := EvalCurve(curve(c.how, c.how), c.t, got[:])
		if ok != c.ok || math.Abs(got[0]-c.want) > 1e-12 {
			t.Errorf("%s at %g: got %g %v, want %g %v", c.name, c.t, got[0], ok, c.want, c.ok)
		}
	}
}

func TestSlerpTakesTheShortWay(t *testing.T) {
	h := math.Sqrt(0.5)
	c := &scene.Curve{Times: []float64{0, 1}, Values: []float64{1, 0, 0, 0, -h, 0, 0, -h}, Stride: 4}
	var q [4]float64
	EvalCurve(c, 1.0/3, q[:])
	// A third of 90 degrees about Z: closed form.
	if math.Abs(q[0]-math.Cos(15*vec.Degree)) > 1e-12 || math.Abs(q[3]-math.Sin(15*vec.Degree)) > 1e-12 {
		t.Errorf("got %v", q)
	}
}

func TestDualValuedKey(t *testing.T) {
	c := &scene.Curve{Times: []float64{0, 2, 4}, Values: []float64{0, 10, 12}, PreValues: []float64{0, 4, 12}, Stride: 1}
	for at, want := range map[float64]float64{1: 2, 2: 10, 3: 11} {
		var got [1]float64
		EvalCurve(c, at, got[:])
		if got[0] != want {
			t.Errorf("at %g: got %g, want %g", at, got[0], want)
		}
	}
}

func TestSampleCurveAgreesWithEvalCurve(t *testing.T) {
	c := easing(0.3, 0.1, 0.2, 1.4)
	c.Times = []float64{3, 17.5}
	c.Handles.OutT[0] *= 14.5
	c.Handles.InT[1] *= 14.5
	dst := make([]float64, 25)
	SampleCurve(c, 0, 25, []float64{0}, dst)
	for i := range dst {
		var want [1]float64
		EvalCurve(c, float64(i), want[:])
		if dst[i] != want[0] {
			t.Errorf("frame %d: got %g, want %g", i, dst[i], want[0])
		}
	}
}
