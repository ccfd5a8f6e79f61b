package motion

import (
	"math"
	"testing"

	"curvelint/parse/scene"
)

func TestParabolaOfFreeFall(t *testing.T) {
	// Standard gravity, 3rd CGPM 1901: s = g t^2 / 2, sampled at 24 a second.
	const g = 9.80665
	x := make([]float64, 19)
	for i := range x {
		s := float64(i) / 24
		x[i] = 2 + 3*s - g*s*s/2
	}
	c, worst := Parabola(x)
	if got := -2 * c * 24 * 24; math.Abs(got-g) > 1e-9 || worst > 1e-12 {
		t.Errorf("acceleration %g, residual %g", got, worst)
	}
}

func TestFlexOfALeg(t *testing.T) {
	b := newBuilder(90)
	hips := b.part("/hips", "hips", scene.NoPart, op(scene.Translate, 0, 10, 0))
	thigh := b.part("/hips/thigh_l", "thigh_l", hips, op(scene.Translate, 1, 0, 0), op(scene.RotateX, 0))
	shin := b.part("/hips/thigh_l/shin_l", "shin_l", thigh, op(scene.Translate, 0, -4, 0), op(scene.RotateX, 0))
	b.part("/hips/thigh_l/shin_l/foot_l", "foot_l", shin, op(scene.Translate, 0, -4, 0))
	b.animate(thigh, 1, 0, scene.Angle, func(f float64) float64 { return -f })
	b.animate(shin, 1, 0, scene.Angle, func(f float64) float64 { return 80 - f })
	s := New(&b.sc, Options{})
	limbs := s.Figures()[0].Limbs()
	if len(limbs) != 1 {
		t.Fatalf("%d limbs", len(limbs))
	}
	f := s.Flex(limbs[0])
	for _, i := range []int{0, 40, 79, 85} {
		want := math.Abs(80 - float64(i))
		if math.Abs(f.Angle[i]-want) > 1e-9 || math.Abs(f.Extension[i]-math.Cos(want/2*radians)) > 1e-9 {
			t.Errorf("frame %d: %g degrees, extension %g", i, f.Angle[i], f.Extension[i])
		}
	}
	if f.Side[10] < 0.99 || f.Side[89] > -0.99 {
		t.Errorf("sides %g and %g", f.Side[10], f.Side[89])
	}
}

// TestLimbsOfUnknownWords: two bones of an arm may be told apart by words that are
// not known; a shoulder and an arm of a rig without forearms are no such two.
func TestLimbsOfUnknownWords(t *testing.T) {
	for _, tt := range []struct {
		second float64 // length of the second bone; the first has 3
		limbs  int
	}{{2.8, 1}, {9, 0}} {
		b := newBuilder(24)
		hips := b.part("/hips", "hips", scene.NoPart, op(scene.Translate, 0, 10, 0), op(scene.RotateX, 0))
		b.animate(hips, 1, 0, scene.Angle, func(f float64) float64 { return f })
		chest := b.part("/hips/chest", "chest", hips, op(scene.Translate, 0, 4, 0))
		upper := b.part("/hips/chest/OberArm_l", "OberArm_l", chest, op(scene.Translate, 1, 0, 0), op(scene.RotateX, 0))
		lower := b.part("/hips/chest/OberArm_l/UnterArm_l", "UnterArm_l", upper, op(scene.Translate, 0, -3, 0), op(scene.RotateX, 0))
		b.part("/hips/chest/OberArm_l/UnterArm_l/hand_l", "hand_l", lower, op(scene.Translate, 0, -tt.second, 0))
		b.animate(lower, 1, 0, scene.Angle, func(f float64) float64 { return f })
		if limbs := New(&b.sc, Options{}).Figures()[0].Limbs(); len(limbs) != tt.limbs {
			t.Errorf("%g long: %v", tt.second, limbs)
		} else if tt.limbs == 1 && (limbs[0].Upper != upper || limbs[0].Lower != lower) {
			t.Errorf("bends at %d below %d", limbs[0].Lower, limbs[0].Upper)
		}
	}
}
