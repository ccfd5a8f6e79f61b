package body

import (
	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/parse/scene"
)

// Names that tell of half a body are worse than none: a leg of which only the toes
// are known stands on nothing but toes. What they leave open is taken from the shape
// of the figure, if the shape says the same as the names of what they do tell.

// leastOpen is how many moving bones off the limbs must be left without a label for
// the shape to be asked: less is what hangs on a body (a pouch, a strap).
const leastOpen = 3

// fillByShape labels bones of trunk and limbs whose names say nothing.
func (fig *Anatomy) fillByShape(rest map[scene.PartID]r3.Vec) {
	if !fig.namesLeaveGaps() {
		return
	}
	byShape := &Anatomy{cast: fig.cast, Index: fig.Index, Root: fig.Root, Parts: fig.Parts, Carrier: fig.Carrier,
		Size: fig.Size, Unit: fig.Unit, labels: make(map[scene.PartID]Label, len(fig.Parts))}
	for _, p := range fig.Parts {
		byShape.labels[p] = Label{}
	}
	byShape.labelByShape(rest)
	if !fig.sameLimbs(byShape) {
		return
	}
	has := map[Label]bool{} // what names tell of, without the pair
	for _, p := range fig.Parts {
		l := fig.labels[p]
		has[Label{Body: l.Body}] = true
		has[Label{Body: l.Body, Side: l.Side, Place: l.Place}] = true
	}
	for _, p := range fig.Parts {
		if l := byShape.labels[p]; fig.labels[p].Body == NoBody && mayFill(l, has) {
			fig.labels[p] = l
		}
	}
}

// namesLeaveGaps reports whether names leave open what moving bones are: several off the
// limbs, or one on an arm or a leg of which they tell no upper, lower or end bone.
func (fig *Anatomy) namesLeaveGaps() bool {
	s := fig.cast
	off := 0
	limb := map[scene.PartID]Label{} // what an open bone hangs on
	places := map[Label]uint8{}      // the places of each limb that names tell of, as bits
	for _, p := range fig.Parts {
		l := fig.labels[p]
		if l.Body == Arm || l.Body == Leg {
			places[Label{Body: l.Body, Side: l.Side, Pair: l.Pair}] |= 1 << l.Place
		}
	}
	gap := func(l Label) bool {
		const whole = 1<<Upper | 1<<Lower | 1<<End
		named, ok := places[Label{Body: l.Body, Side: l.Side, Pair: l.Pair}]
		return ok && named&whole != whole
	}
	for _, p := range fig.Parts {
		l := fig.labels[p]
		if l.Body != NoBody {
			limb[p] = l
			continue
		}
		limb[p] = limb[s.Scene.Parts[p].Parent]
		if !s.Moves(p) || !s.isBone(p) {
			continue
		}
		switch bearer := limb[p]; {
		case gap(bearer):
			return true
		case !bearer.inherits():
			off++
		}
	}
	return off >= leastOpen
}

// mayFill reports whether a label that the shape gives may stand: one of trunk or
// limbs, at no place of a limb, and of no neck and head, that a name tells of.
func mayFill(l Label, has map[Label]bool) bool {
	switch l.Body {
	case Hips, Chest:
		return true
	case Neck, Head:
		return !has[Label{Body: l.Body}]
	case Arm, Leg:
		return l.Place == NoPlace || !has[Label{Body: l.Body, Side: l.Side, Place: l.Place}]
	case Wing, Fingers:
		return true
	}
	return false
}

// sameLimbs compares the limbs in the shape with those that names tell of and turns
// the sides of the shape round where all names say so. It reports whether the two
// are the same.
func (fig *Anatomy) sameLimbs(shape *Anatomy) bool {
	named, same, turned := 0, 0, 0
	for _, p := range fig.Parts {
		a, b := fig.labels[p], shape.labels[p]
		if !a.Body.limb() || fig.cast.Scene.Parts[p].Kind == scene.Tip {
			continue
		}
		named++
		switch {
		case a.Body != b.Body:
		case a.Side == b.Side || a.Side == Middle:
			same++
		default:
			turned++
		}
	}
	// One in ten may differ: a name that is no word for the body, a knuckle.
	if named < 2 || 10*max(same, turned) < 9*named {
		return false
	}
	if turned > same {
		for p, l := range shape.labels {
			l.Side = l.Side.other()
			shape.labels[p] = l
		}
	}
	return true
}

// limb reports whether the body part is one of which there is a left and a right.
func (b Body) limb() bool { return b == Arm || b == Leg || b == Wing }

// other is the side across, and the middle for the middle.
func (s Side) other() Side { return [...]Side{Middle, Right, Left}[s] }
