package body

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/parse/scene"
)

// standingPaw is how high over the lowest part, as a share of the height of the
// limb's top, a paw is in the first pose that stands on the ground.
const standingPaw = 0.25

// labelForelegs settles the limbs whose names speak of an arm and, below it, of a paw
// or foot: a foreleg has an upper arm and a forearm in the words of anatomy. It is
// a leg when its end is near the ground in the first pose, as a dog stands, and
// else an arm whose hand is called a paw.
func (fig *Anatomy) labelForelegs(rest map[scene.PartID]r3.Vec) {
	up := fig.cast.Up()
	floor := math.NaN()
	for _, p := range fig.Parts {
		if fig.labels[p].Body != Arm || fig.labels[fig.cast.Scene.Parts[p].Parent].Body == Arm {
			continue
		}
		limb, paw := fig.limbBelow(p)
		if paw == scene.NoPart {
			continue
		}
		if math.IsNaN(floor) {
			floor = fig.lowestPart(rest, up)
		}
		if r3.Dot(rest[paw], up)-floor < standingPaw*(r3.Dot(rest[p], up)-floor) {
			fig.relabelAsLeg(limb)
		} else {
			fig.relabelAsArm(limb)
		}
	}
}

// limbBelow returns the parts of the limb that starts at p and the highest of
// those that are called a paw or the like, or NoPart, as well where there are
// fingers.
func (fig *Anatomy) limbBelow(p scene.PartID) (limb []scene.PartID, paw scene.PartID) {
	paw = scene.NoPart
	fingers := false
	var walk func(p scene.PartID)
	walk = func(p scene.PartID) {
		l, mine := fig.labels[p]
		switch {
		case !mine || l.Body != Arm && l.Body != Leg && l.Body != Fingers && l.Body != NoBody:
			return
		case l.Body == Leg && l.Place >= End && paw == scene.NoPart:
			paw = p
		}
		fingers = fingers || l.Body == Fingers
		limb = append(limb, p)
		for _, c := range fig.cast.Children(p) {
			walk(c)
		}
	}
	walk(p)
	if fingers {
		return limb, scene.NoPart
	}
	return limb, paw
}

// lowestPart is the height of the figure's lowest part at rest.
func (fig *Anatomy) lowestPart(rest map[scene.PartID]r3.Vec, up r3.Vec) float64 {
	low := math.Inf(1)
	for _, p := range fig.Parts {
		if at, ok := rest[p]; ok {
			low = min(low, r3.Dot(at, up))
		}
	}
	return low
}

// relabelAsLeg makes the limb's parts those of a front leg. Where a forearm is followed
// by a shin, the forearm is the upper bone.
func (fig *Anatomy) relabelAsLeg(limb []scene.PartID) {
	upper, lower := false, scene.NoPart
	for _, p := range limb {
		l := fig.labels[p]
		if l.Body == NoBody {
			continue
		}
		l.Body, l.Pair = Leg, 'f'
		fig.labels[p] = l
		upper = upper || l.Place == Upper
		if l.Place != Lower {
			continue
		}
		if lower != scene.NoPart && !upper {
			above := fig.labels[lower]
			above.Place, upper = Upper, true
			fig.labels[lower] = above
		}
		lower = p
	}
}

// relabelAsArm makes the paw of an arm its hand, and what is called toes its fingers.
func (fig *Anatomy) relabelAsArm(limb []scene.PartID) {
	for _, p := range limb {
		l := fig.labels[p]
		switch {
		case l.Body != Leg:
			continue
		case l.Place == Heel || l.Place == Toe:
			l.Body, l.Place = Fingers, NoPlace
		default:
			l.Body = Arm
		}
		fig.labels[p] = l
	}
}
