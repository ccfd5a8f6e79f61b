package designed

import "testing"

func TestNamings(t *testing.T) {
	for _, c := range []struct {
		n    Naming
		want [3]string // of the left upperarm, the head_tip, the right front_upperleg
	}{
		{Snake, [3]string{"upperarm_l", "head_tip", "front_upperleg_r"}},
		{Camel, [3]string{"leftUpperArm", "headTip", "rightFrontUpperLeg"}},
		{Prefixed("mate:"), [3]string{"mate:LeftUpperArm", "mate:HeadTip", "mate:RightFrontUpperLeg"}},
		{Letter, [3]string{"L_upperarm", "C_head_tip", "R_front_upperleg"}},
		{Numbered("joint"), [3]string{"joint1", "joint2", "joint3"}},
	} {
		got := [3]string{c.n("upperarm", LeftSide), c.n("head_tip", Middle), c.n("front_upperleg", RightSide)}
		if got != c.want {
			t.Errorf("%v, wanted %v", got, c.want)
		}
	}
}
