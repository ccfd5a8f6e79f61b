package body

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/cmd/lab/smallscene"
	"curvelint/parse/scene"
)

// standing builds a person of height 1 from body segments as shares of stature
// (R. Drillis, R. Contini, 1966, as printed in Winter's handbook; from memory):
// ankle 0.039, knee 0.285, hip 0.530, shoulder 0.818, elbow 0.632, wrist 0.486,
// ear 0.936. spine is how many joints the trunk has.
func standing(spine int) *smallscene.Builder {
	b := smallscene.New(24)
	hips := b.Part("/hips", "hips", scene.NoPart, smallscene.Op(scene.Translate, 0, 0.53, 0), smallscene.Op(scene.RotateY, 0))
	b.Animate(hips, 1, 0, scene.Angle, func(f float64) float64 { return f })
	chain := func(up scene.PartID, path string, names []string, at ...float64) {
		for i, n := range names {
			path += "/" + n
			up = b.Part(path, n, up, smallscene.Op(scene.Translate, at[3*i], at[3*i+1], at[3*i+2]), smallscene.Op(scene.RotateX, 0))
		}
	}
	trunk, path := hips, "/hips"
	for i := range spine {
		n := []string{"spine_a", "spine_b", "spine_c", "spine_d", "spine_e", "spine_f"}[i]
		path += "/" + n
		trunk = b.Part(path, n, trunk, smallscene.Op(scene.Translate, 0, 0.26/float64(spine), 0), smallscene.Op(scene.RotateX, 0))
	}
	chain(trunk, path, []string{"neck", "head"}, 0, 0.06, 0, 0, 0.936-0.85, 0)
	for _, s := range []string{"_l", "_r"} {
		x := 0.1
		if s == "_r" {
			x = -x
		}
		chain(trunk, path, []string{"upperarm" + s, "forearm" + s, "hand" + s}, x, 0.818-0.79, 0, 0, -0.186, 0, 0, -0.146, 0)
		chain(hips, "/hips", []string{"thigh" + s, "shin" + s, "foot" + s}, x, 0, 0, 0, -0.245, 0, 0, -0.246, 0)
	}
	return b
}

// TestCentreOfMass: a standing person's centre of mass is at 0.55 to 0.58 of the
// height (handbook value, from memory), however many joints the spine has.
func TestCentreOfMass(t *testing.T) {
	for _, spine := range []int{1, 3, 6} {
		b := standing(spine)
		fig := found(&b.Scene)[0]
		_, masses, ok := fig.personMasses()
		sum := 0.0
		for _, m := range masses {
			sum += m
		}
		if !ok || math.Abs(sum-1) > 1e-12 {
			t.Fatalf("%d joints in the spine: masses sum to %g", spine, sum)
		}
		c := r3.Scale(fig.Size, fig.Centre(0, 1)[0])
		if c.Y < 0.55 || c.Y > 0.58 || math.Abs(c.X) > 1e-9 {
			t.Errorf("%d joints in the spine: the centre is at %v", spine, c)
		}
	}
}

// TestCentreOfOthers: without arms it is no person, and the centre is the mean of
// the joints.
func TestCentreOfOthers(t *testing.T) {
	b := smallscene.New(24)
	hips := b.Part("/hips", "hips", scene.NoPart, smallscene.Op(scene.Translate, 0, 4, 0), smallscene.Op(scene.RotateY, 0))
	b.Animate(hips, 0, 0, scene.Length, func(f float64) float64 { return f })
	b.Part("/hips/chest", "chest", hips, smallscene.Op(scene.Translate, 0, 2, 0))
	b.Part("/hips/chest/head", "head", 1, smallscene.Op(scene.Translate, 0, 3, 0))
	fig := found(&b.Scene)[0]
	if c := r3.Scale(fig.Size, fig.Centre(0, 1)[0]); !near(c, r3.Vec{Y: 19.0 / 3}, 1e-9) {
		t.Errorf("the centre is at %v", c)
	}
}
