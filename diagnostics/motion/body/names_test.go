package body

import "testing"

func TestReadName(t *testing.T) {
	for name, want := range map[string]Label{
		"hips": {Hips, Middle, 0, 0}, "LHip": {Leg, Left, Upper, 0}, "lefthip": {Leg, Left, Upper, 0}, "RightUpLeg": {Leg, Right, Upper, 0},
		"RightLeg": {Leg, Right, Lower, 0}, "LeftForeArm": {Arm, Left, Lower, 0}, "LeftArm": {Arm, Left, Upper, 0}, "lowerarm_l": {Arm, Left, Lower, 0},
		"upperarm_r": {Arm, Right, Upper, 0}, "LeftHandIndex1": {Fingers, Left, 0, 0}, "eyelid_upper_l": {Lids, Left, 0, 0}, "eyebrow.R": {Brows, Right, 0, 0},
		"browInnerUp": {Brows, Middle, 0, 0}, "eyeBlinkLeft": {Lids, Left, 0, 0}, "night:LeftToeBase": {Leg, Left, Toe, 0}, "rfoot": {Leg, Right, End, 0},
		"front_leg_l": {Leg, Left, Lower, 'f'}, "hind_paw_r": {Leg, Right, End, 'h'}, "joint17": {}, "deckhand": {}, "winch_handle": {}, "bulkhead": {}, "backpack_l": {Side: Left}, "Detail01": {}, "thgh_L": {Leg, Left, Upper, 0},
		"NckA": {Neck, Middle, 0, 0}, "UprArmR": {Arm, Right, Upper, 0}, "HndToeL": {Leg, Left, Toe, 'h'}, "hndL": {Arm, Left, End, 0}, "alarm": {}, "spear": {}, "harm": {}, "gear": {},
		"Spine2": {Chest, Middle, 0, 0}, "ponytail_03": {Hair, Middle, 0, 0}, "coat_tail_2": {Coat, Middle, 0, 0}, "winch": {}, "deck": {}, "spring": {},
		"shoulder_L": {Arm, Left, Upper, 0}, "LeftShoulder": {Arm, Left, Upper, 0}, "wing_tip_r": {Wing, Right, 0, 0}, "Head_end": {Head, Middle, 0, 0},
		"jawOpen": {Mouth, Middle, 0, 0}, "lHand": {Arm, Left, End, 0}, "lThumb1": {Fingers, Left, 0, 0}, "eye_l": {Eyes, Left, 0, 0},
		"L_frontupperleg": {Leg, Left, Upper, 'f'}, "backLeg_R": {Leg, Right, Lower, 'h'}, "back": {Chest, Middle, 0, 0}, "rearfoot_l": {Leg, Left, End, 'h'},
	} {
		if got := ReadName(name); got != want {
			t.Errorf("%s: got %+v, want %+v", name, got, want)
		}
	}
}
