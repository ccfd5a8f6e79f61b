package designed

import (
	"strconv"
	"strings"
	"unicode"
)

// Side is the side of a part; Middle has none.
type Side int

// The sides of parts; the first two are the indices Left and Right.
const (
	LeftSide  Side = Left
	RightSide Side = Right
	Middle    Side = 2
)

// Naming turns a part's plain word ("upperarm", "toe_tip") and side into a name
// in one habit.
type Naming func(word string, side Side) string

// Snake is brow_l, head_tip, hand_tip_r.
func Snake(word string, side Side) string {
	return word + [...]string{"_l", "_r", ""}[side]
}

// Camel is leftBrow, headTip, rightHandTip.
func Camel(word string, side Side) string {
	name := [...]string{"left", "right", ""}[side] + pascal(word)
	return string(unicode.ToLower(rune(name[0]))) + name[1:]
}

// Prefixed is the habit of a common namespace: mate:LeftBrow, mate:HeadTip.
func Prefixed(prefix string) Naming {
	return func(word string, side Side) string {
		return prefix + [...]string{"Left", "Right", ""}[side] + pascal(word)
	}
}

// Letter is L_brow, C_head_tip, R_hand_tip.
func Letter(word string, side Side) string {
	return [...]string{"L_", "R_", "C_"}[side] + word
}

// Numbered is the habit of names that say nothing: joint1, joint2, ... in the
// order in which they are asked for.
func Numbered(word string) Naming {
	n := 0
	return func(string, Side) string {
		n++
		return word + strconv.Itoa(n)
	}
}

// pascal turns upperarm into UpperArm and head_tip into HeadTip.
func pascal(word string) string {
	var b strings.Builder
	for _, w := range strings.Split(word, "_") {
		for limb, capital := range map[string]string{"arm": "Arm", "leg": "Leg"} {
			if cut, ok := strings.CutSuffix(w, limb); ok && cut != "" {
				w = cut + capital
			}
		}
		b.WriteString(title(w))
	}
	return b.String()
}

func title(w string) string {
	if w == "" {
		return w
	}
	return strings.ToUpper(w[:1]) + w[1:]
}
