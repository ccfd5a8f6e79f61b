package fixes

import (
	"math"
	"testing"
)

func TestPrinted(t *testing.T) {
	for _, tt := range []struct {
		old  string
		v    float64
		step float64
		want string
	}{
		{"1.25", 2, 0.01, "2"},
		{"1.25", 2.5, 0.01, "2.5"},
		{"1.50", 2, 0.01, "2.00"},
		{"7", 2.5, 0.001, "2.5"},
		{"7", 2.123456, 0, "2.1235"},
		{"-0.001", -0.0001, 0.001, "0"},
		{"1e-3", 0.25, 0, "0.25"},
		{"0", 1.0 / 3, 1e-6, "0.333333"},
	} {
		if got := printed(tt.old, tt.v, tt.step); got != tt.want {
			t.Errorf("%s becomes %g: %q, want %q", tt.old, tt.v, got, tt.want)
		}
	}
}

func TestOrderOf(t *testing.T) {
	m := make([]float64, 16)
	turned := make([]float64, 16)
	for i := range m {
		m[i] = float64(i)
		turned[i%4*4+i/4] = float64(i)
	}
	if o := orderOf(m, m); o == nil || o[1] != 1 {
		t.Errorf("a matrix as it stands: %v", o)
	}
	if o := orderOf(turned, m); o == nil || o[1] != 4 {
		t.Errorf("a matrix on its side: %v", o)
	}
	if o := orderOf([]float64{2, 3, 4, 1}, []float64{1, 2, 3, 4}); o == nil || o[3] != 0 {
		t.Errorf("the real part last: %v", o)
	}
	if o := orderOf([]float64{2, 3, 5, 1}, []float64{1, 2, 3, 4}); o != nil {
		t.Errorf("other numbers: %v", o)
	}
}

// TestAxisAngle checks against the closed form of a quarter turn: the quaternion
// of 90 degrees about Y is (sqrt(1/2), 0, sqrt(1/2), 0).
func TestAxisAngle(t *testing.T) {
	q := fromAxisAngle([]float64{0, 2, 0, math.Pi / 2})
	for i, want := range []float64{math.Sqrt2 / 2, 0, math.Sqrt2 / 2, 0} {
		if math.Abs(q[i]-want) > 1e-15 {
			t.Errorf("quaternion %v", q)
		}
	}
	back := axisAngle(q[:])
	for i, want := range []float64{0, 1, 0, math.Pi / 2} {
		if math.Abs(back[i]-want) > 1e-15 {
			t.Errorf("axis and angle %v", back)
		}
	}
}

// TestProfile: the profile meets its ends with the slopes given. With none and
// no favour it is 3u^2-2u^3, whose peak is 1.5 times its mean speed.
func TestProfile(t *testing.T) {
	const h = 1e-6
	for _, p := range []profile{{0, 0, 0}, {0.5, 1, 0}, {1, 1, 1.25}, {0.2, 1.5, -1}} {
		if p.at(0) != 0 || math.Abs(p.at(1)-1) > 1e-15 {
			t.Errorf("%+v runs from %g to %g", p, p.at(0), p.at(1))
		}
		if in := p.at(h) / h; math.Abs(in-p.in) > 1e-5 {
			t.Errorf("%+v starts with slope %g", p, in)
		}
		if out := (1 - p.at(1-h)) / h; math.Abs(out-p.out) > 1e-5 {
			t.Errorf("%+v ends with slope %g", p, out)
		}
	}
	p := profile{}
	if peak := (p.at(0.5+h) - p.at(0.5-h)) / (2 * h); math.Abs(peak-1.5) > 1e-6 {
		t.Errorf("peak %g", peak)
	}
	if (profile{in: 1, out: 1}).even(12) == false || (profile{}).even(12) {
		t.Error("constant speed must be even, a smooth step not")
	}
}
