package designed

import (
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// The two sides of a body; left is +X for a body that faces +Z with Y up.
const (
	Left = iota
	Right
)

// Sides holds the indices of a left and a right part.
type Sides [2]int

// Body holds the indices of a biped's parts in a shot. It stands at its Root
// facing +Z, with its arms hanging at rest.
type Body struct {
	Root, Hips, Spine, Chest, Neck, Head, HeadTip, Jaw int

	Brow, Lid, Eye                   Sides
	Clav, Upper, Fore, Hand, HandTip Sides
	Thigh, Shin, Foot, Toe, ToeTip   Sides
}

// bones are a biped's rest offsets in centimetres for the left side; k scales
// them.
var bones = map[string]r3.Vec{
	"hips": {Y: 92}, "spine": {Y: 10}, "chest": {Y: 16}, "neck": {Y: 26}, "head": {Y: 9, Z: 1}, "head_tip": {Y: 10, Z: 15},
	"jaw": {Y: 2, Z: 3}, "brow": {X: 3.5, Y: 11, Z: 7}, "lid": {X: 3.2, Y: 9, Z: 7.5}, "eye": {X: 3.2, Y: 9, Z: 7},
	"clav": {X: 3, Y: 20, Z: 1}, "upperarm": {X: 15, Y: 2, Z: -1}, "forearm": {Y: -30}, "hand": {Y: -28}, "hand_tip": {Y: -16},
	"thigh": {X: 9, Y: -3}, "shin": {Y: -44}, "foot": {Y: -43}, "toe": {Y: -6, Z: 14}, "toe_tip": {Y: -2, Z: 7},
}

// NewBody adds a biped below parent, its root called root and its other parts
// named in the given habit, scaled by k.
func NewBody(s *Shot, parent int, root string, n Naming, k float64) *Body {
	b := &Body{Root: s.Add(parent, Part{Name: root})}
	add := func(up int, word string) int {
		return s.Add(up, Part{Name: n(word, Middle), Offset: r3.Scale(k, bones[word])})
	}
	b.Hips = add(b.Root, "hips")
	b.Spine = add(b.Hips, "spine")
	b.Chest = add(b.Spine, "chest")
	b.Neck = add(b.Chest, "neck")
	b.Head = add(b.Neck, "head")
	b.Jaw = add(b.Head, "jaw")
	for i := range 2 {
		b.Brow[i] = addSide(s, b.Head, "brow", i, n, k)
	}
	for i := range 2 {
		b.Lid[i] = addSide(s, b.Head, "lid", i, n, k)
	}
	for i := range 2 {
		b.Eye[i] = addSide(s, b.Head, "eye", i, n, k)
	}
	b.HeadTip = add(b.Head, "head_tip")
	s.Parts[b.HeadTip].Kind = Tip
	for i := range 2 {
		b.addArm(s, i, n, k)
	}
	for i := range 2 {
		b.addLeg(s, i, n, k)
	}
	s.Figures = append(s.Figures, Figure{Name: root, Root: b.Root})
	return b
}

func addSide(s *Shot, up int, word string, side int, n Naming, k float64) int {
	at := r3.Scale(k, bones[word])
	if side == Right {
		at.X = -at.X
	}
	return s.Add(up, Part{Name: n(word, Side(side)), Offset: at})
}

func (b *Body) addArm(s *Shot, i int, n Naming, k float64) {
	b.Clav[i] = addSide(s, b.Chest, "clav", i, n, k)
	b.Upper[i] = addSide(s, b.Clav[i], "upperarm", i, n, k)
	b.Fore[i] = addSide(s, b.Upper[i], "forearm", i, n, k)
	b.Hand[i] = addSide(s, b.Fore[i], "hand", i, n, k)
	b.HandTip[i] = addSide(s, b.Hand[i], "hand_tip", i, n, k)
	s.Parts[b.HandTip[i]].Kind = Tip
}

func (b *Body) addLeg(s *Shot, i int, n Naming, k float64) {
	b.Thigh[i] = addSide(s, b.Hips, "thigh", i, n, k)
	b.Shin[i] = addSide(s, b.Thigh[i], "shin", i, n, k)
	b.Foot[i] = addSide(s, b.Shin[i], "foot", i, n, k)
	b.Toe[i] = addSide(s, b.Foot[i], "toe", i, n, k)
	b.ToeTip[i] = addSide(s, b.Toe[i], "toe_tip", i, n, k)
	s.Parts[b.ToeTip[i]].Kind = Tip
}

// HoldHand puts the wrist of one side at goal in the space of part frame, turned
// as facing says (nil: by the hand's own signals), the elbow out and back.
func (b *Body) HoldHand(s *Shot, side, frame int, goal func(float64) r3.Vec, facing func(float64) quat.Number) {
	out := 1 - 2*float64(side)
	pole := func(float64) r3.Vec { return r3.Vec{X: 0.6 * out, Y: -0.7, Z: -0.5} }
	s.addLimb(Limb{Upper: b.Upper[side], Lower: b.Fore[side], End: b.Hand[side], Frame: frame,
		Goal: goal, Facing: facing, Pole: pole, RestPole: r3.Vec{Z: -1}})
}

// PlantFoot puts the ankle of one side at goal in the space of part frame, with
// the foot turned as facing says and the knee over it.
func (b *Body) PlantFoot(s *Shot, side, frame int, goal func(float64) r3.Vec, facing func(float64) quat.Number) {
	pole := func(t float64) r3.Vec {
		knee := Rotate(facing(t), r3.Vec{Z: 1})
		return r3.Vec{X: knee.X, Y: max(knee.Y, -0.3), Z: knee.Z}
	}
	s.addLimb(Limb{Upper: b.Thigh[side], Lower: b.Shin[side], End: b.Foot[side], Frame: frame,
		Goal: goal, Facing: facing, Pole: pole, RestPole: r3.Vec{Z: 1}})
}

// Reach adds a limb whose End is put at a goal.
func (s *Shot) Reach(l Limb) { s.addLimb(l) }

// addLimb keeps the limbs in the order of their upper parts.
func (s *Shot) addLimb(l Limb) {
	i := len(s.Limbs)
	for i > 0 && s.Limbs[i-1].Upper > l.Upper {
		i--
	}
	s.Limbs = append(s.Limbs, Limb{})
	copy(s.Limbs[i+1:], s.Limbs[i:])
	s.Limbs[i] = l
}

// Place3 makes a function of three signals for a limb's goal, about a resting
// place.
func Place3(rest r3.Vec, x, y, z Signal) func(float64) r3.Vec {
	return func(t float64) r3.Vec {
		return r3.Add(rest, r3.Vec{X: x.At(t, 0), Y: y.At(t, 0), Z: z.At(t, 0)})
	}
}

// Turn3 makes a function of three angles for a limb's facing.
func Turn3(x, y, z Signal) func(float64) quat.Number {
	return func(t float64) quat.Number {
		return Turned([3]float64{x.At(t, 0), y.At(t, 0), z.At(t, 0)})
	}
}
