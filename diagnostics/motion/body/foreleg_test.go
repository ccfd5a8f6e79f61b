package body

import (
	"testing"

	"curvelint/cmd/lab/smallscene"
	"curvelint/parse/scene"
)

// TestForelegs: the forelimb of the ship's dog is a leg though its bones are called
// arm and forearm, as anatomy has it (upper arm, forearm, paw); a figure that
// carries its paws high has hands. Invented data; the words are common practice.
func TestForelegs(t *testing.T) {
	front := func(side Side, p Place) Label { return Label{Leg, side, p, 'f'} }
	for _, tt := range []struct {
		about  string
		names  []string // from the limb's top to its end, each 3 below the last
		height float64  // of the limb's top over the ground
		want   []Label
	}{
		{"a dog in words of anatomy", []string{"scapula_l", "upperarm_l", "forearm_l", "paw_l"}, 9.5,
			[]Label{front(Left, Root), front(Left, Upper), front(Left, Lower), front(Left, End)}},
		{"a forearm above a shin", []string{"RgtForeArm", "RgtForeShin", "RgtForePaw"}, 6.5,
			[]Label{front(Right, Upper), front(Right, Lower), front(Right, End)}},
		{"a wrist above a paw", []string{"arm_l", "elbow_l", "wrist_l", "paw_l"}, 9.2,
			[]Label{front(Left, Upper), front(Left, Lower), front(Left, End), front(Left, End)}},
		{"a bear on its hind legs", []string{"upperarm_l", "forearm_l", "paw_l"}, 14,
			[]Label{{Arm, Left, Upper, 0}, {Arm, Left, Lower, 0}, {Arm, Left, End, 0}}},
		{"a hand", []string{"upperarm_l", "forearm_l", "hand_l"}, 6,
			[]Label{{Arm, Left, Upper, 0}, {Arm, Left, Lower, 0}, {Arm, Left, End, 0}}},
	} {
		b := smallscene.New(24)
		hips := b.Part("/hips", "hips", scene.NoPart, smallscene.Op(scene.Translate, 0, 9, 0), smallscene.Op(scene.RotateX, 0))
		b.Animate(hips, 1, 0, scene.Angle, func(f float64) float64 { return f })
		at, path := hips, "/hips"
		for i, name := range []string{"thigh_l", "shin_l", "foot_l"} {
			path += "/" + name
			at = b.Part(path, name, at, smallscene.Op(scene.Translate, 0, []float64{-1, -4, -4}[i], 0))
		}
		chest := b.Part("/hips/chest", "chest", hips, smallscene.Op(scene.Translate, 0, tt.height-9, 6))
		at, path = chest, "/hips/chest"
		var limb []scene.PartID
		for i, name := range tt.names {
			path += "/" + name
			drop := -3.0
			if i == 0 {
				drop = 0
			}
			at = b.Part(path, name, at, smallscene.Op(scene.Translate, 0, drop, 0))
			limb = append(limb, at)
		}
		fig := found(&b.Scene)[0]
		for i, p := range limb {
			if got := fig.LabelOf(p); got != tt.want[i] {
				t.Errorf("%s: %s is %+v, want %+v", tt.about, tt.names[i], got, tt.want[i])
			}
		}
	}
}

// TestOneDog: a dog whose hind legs hang beside the back with its front legs is one
// figure, whatever its root is called; two crew under one node are two. Invented data.
func TestOneDog(t *testing.T) {
	for _, tt := range []struct {
		root, second string
		figures      int
	}{{"Hindquarters", "thigh_l", 1}, {"Skipper", "thigh_l", 1}, {"Crew", "spine_b", 2}} {
		b := smallscene.New(24)
		limb := func(up scene.PartID, path string, names ...string) {
			for _, n := range names {
				path += "/" + n
				up = b.Part(path, n, up, smallscene.Op(scene.Translate, 0, -3, 0), smallscene.Op(scene.RotateX, 0))
				b.Animate(up, 1, 0, scene.Angle, func(f float64) float64 { return f })
			}
		}
		root := b.Part("/r", tt.root, scene.NoPart, smallscene.Op(scene.Translate, 0, 9, 0), smallscene.Op(scene.RotateX, 0))
		b.Animate(root, 1, 0, scene.Angle, func(f float64) float64 { return f })
		limb(root, "/r", "spine", "neck", "head")
		limb(2, "/r/spine/neck", "forearm_l", "foreshin_l", "forepaw_l")
		limb(2, "/r/spine/neck", "forearm_r", "foreshin_r", "forepaw_r")
		limb(root, "/r", "thigh_r", "shank_r", "hindpaw_r")
		if tt.second == "thigh_l" {
			limb(root, "/r", "thigh_l", "shank_l", "hindpaw_l")
		} else {
			limb(root, "/r", "chest_b", "neck_b", "head_b", "hand_l")
		}
		living := 0
		for _, fig := range found(&b.Scene) {
			if fig.Root != root || tt.figures == 1 {
				living++
			}
		}
		if living != tt.figures {
			t.Errorf("%s: %d figures, want %d", tt.root, living, tt.figures)
		}
	}
}
