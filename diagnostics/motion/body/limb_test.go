package body

import (
	"testing"

	"curvelint/cmd/lab/smallscene"
	"curvelint/parse/scene"
)

// TestLimbsOfUnknownWords: two bones of an arm may be told apart by words that are
// not known; a shoulder and an arm of a rig without forearms are no such two.
func TestLimbsOfUnknownWords(t *testing.T) {
	for _, tt := range []struct {
		second float64 // length of the second bone; the first has 3
		limbs  int
	}{{2.8, 1}, {9, 0}} {
		b := smallscene.New(24)
		hips := b.Part("/hips", "hips", scene.NoPart, smallscene.Op(scene.Translate, 0, 10, 0), smallscene.Op(scene.RotateX, 0))
		b.Animate(hips, 1, 0, scene.Angle, func(f float64) float64 { return f })
		chest := b.Part("/hips/chest", "chest", hips, smallscene.Op(scene.Translate, 0, 4, 0))
		upper := b.Part("/hips/chest/OberArm_l", "OberArm_l", chest, smallscene.Op(scene.Translate, 1, 0, 0), smallscene.Op(scene.RotateX, 0))
		lower := b.Part("/hips/chest/OberArm_l/UnterArm_l", "UnterArm_l", upper, smallscene.Op(scene.Translate, 0, -3, 0), smallscene.Op(scene.RotateX, 0))
		b.Part("/hips/chest/OberArm_l/UnterArm_l/hand_l", "hand_l", lower, smallscene.Op(scene.Translate, 0, -tt.second, 0))
		b.Animate(lower, 1, 0, scene.Angle, func(f float64) float64 { return f })
		if limbs := found(&b.Scene)[0].Limbs(); len(limbs) != tt.limbs {
			t.Errorf("%g long: %v", tt.second, limbs)
		} else if tt.limbs == 1 && (limbs[0].Upper != upper || limbs[0].Lower != lower) {
			t.Errorf("bends at %d below %d", limbs[0].Lower, limbs[0].Upper)
		}
	}
}
