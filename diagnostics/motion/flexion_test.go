package motion

import (
	"math"
	"testing"

	"curvelint/cmd/lab/smallscene"
	"curvelint/diagnostics/motion/vec"
	"curvelint/parse/scene"
)

func TestFlexOfALeg(t *testing.T) {
	b := smallscene.New(90)
	hips := b.Part("/hips", "hips", scene.NoPart, smallscene.Op(scene.Translate, 0, 10, 0))
	thigh := b.Part("/hips/thigh_l", "thigh_l", hips, smallscene.Op(scene.Translate, 1, 0, 0), smallscene.Op(scene.RotateX, 0))
	shin := b.Part("/hips/thigh_l/shin_l", "shin_l", thigh, smallscene.Op(scene.Translate, 0, -4, 0), smallscene.Op(scene.RotateX, 0))
	b.Part("/hips/thigh_l/shin_l/foot_l", "foot_l", shin, smallscene.Op(scene.Translate, 0, -4, 0))
	b.Animate(thigh, 1, 0, scene.Angle, func(f float64) float64 { return -f })
	b.Animate(shin, 1, 0, scene.Angle, func(f float64) float64 { return 80 - f })
	s := New(&b.Scene, Options{})
	limbs := s.Figures()[0].Limbs()
	if len(limbs) != 1 {
		t.Fatalf("%d limbs", len(limbs))
	}
	f := s.Flex(limbs[0])
	for _, i := range []int{0, 40, 79, 85} {
		want := math.Abs(80 - float64(i))
		if math.Abs(f.Angle[i]-want) > 1e-9 || math.Abs(f.Extension[i]-math.Cos(want/2*vec.Degree)) > 1e-9 {
			t.Errorf("frame %d: %g degrees, extension %g", i, f.Angle[i], f.Extension[i])
		}
	}
	if f.Side[10] < 0.99 || f.Side[89] > -0.99 {
		t.Errorf("sides %g and %g", f.Side[10], f.Side[89])
	}
}
