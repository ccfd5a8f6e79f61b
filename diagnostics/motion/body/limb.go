package body

import (
	"curvelint/diagnostics/motion/vec"
	"curvelint/parse/scene"
)

// TwoBone is a limb of two bones: thigh and shin, or upper arm and forearm.
type TwoBone struct {
	Name  string // "left leg"
	Label Label
	// Upper turns at the hip or shoulder, Lower at the knee or elbow; End is
	// the ankle or wrist.
	Upper, Lower, End scene.PartID
}

// Limbs returns the figure's two-bone limbs.
func (fig *Anatomy) Limbs() []TwoBone {
	var out []TwoBone
	for _, g := range fig.Groups {
		b := g.Label.Body
		if b != Leg && b != Arm {
			continue
		}
		l := TwoBone{Name: g.Name, Label: g.Label, Upper: scene.NoPart, Lower: scene.NoPart, End: scene.NoPart}
		above := scene.NoPart // the upper one before the last
		for _, p := range g.Parts {
			if !fig.cast.isBone(p) {
				continue
			}
			switch pl := fig.labels[p].Place; {
			case pl == Upper:
				above, l.Upper = l.Upper, p // the last one: the upper arm below a shoulder
			case pl == Lower && l.Lower == scene.NoPart:
				l.Lower = p
			case pl == End && l.End == scene.NoPart:
				l.End = p
			}
		}
		if l.Lower == scene.NoPart && fig.cast.likeBones(above, l.Upper, l.End) {
			// Both are called an arm, by words before it that are not known.
			l.Upper, l.Lower = above, l.Upper
		}
		if l.Upper != scene.NoPart && l.Lower != scene.NoPart && l.End != scene.NoPart &&
			fig.cast.IsAncestor(l.Upper, l.Lower) && fig.cast.IsAncestor(l.Lower, l.End) {
			out = append(out, l)
		}
	}
	return out
}

// likeBones reports whether three parts below each other are two bones of about
// the same length, which a shoulder and an arm are not.
func (c *Cast) likeBones(upper, lower, end scene.PartID) bool {
	if upper == scene.NoPart || lower == scene.NoPart || end == scene.NoPart || !c.IsAncestor(upper, lower) || !c.IsAncestor(lower, end) {
		return false
	}
	a, b := vec.Length(c.SeenFrom(upper, lower, 0, 1)[0].Origin()), vec.Length(c.SeenFrom(lower, end, 0, 1)[0].Origin())
	return min(a, b) > 0.6*max(a, b)
}

// MirrorPair is a left and a right part that correspond.
type MirrorPair struct{ Left, Right scene.PartID }

// MirrorPairs returns the pairs of arm and leg joints of the two sides: same
// body part, same place.
func (fig *Anatomy) MirrorPairs() []MirrorPair {
	var out []MirrorPair
	limbs := fig.Limbs()
	for _, l := range limbs {
		for _, r := range limbs {
			if l.Label.Side == Left && r.Label.Side == Right && l.Label.Body == r.Label.Body && l.Label.Pair == r.Label.Pair {
				out = append(out, MirrorPair{l.Lower, r.Lower}, MirrorPair{l.End, r.End})
			}
		}
	}
	return out
}
