package designed

import (
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Quadruped holds the indices of a four-legged body's parts, standing at its
// Root, facing +Z.
type Quadruped struct {
	Root, Hips, Spine, Chest, Neck, Head, Nose int

	Ear                                 Sides
	Tail                                []int
	Front, FrontLow, FrontPaw, FrontTip Sides
	Hind, HindLow, HindPaw, HindTip     Sides
}

// NewQuadruped adds a four-legged body below parent, its other parts named in
// the given habit, scaled by k (1: 62 cm at the shoulder).
func NewQuadruped(s *Shot, parent int, root string, n Naming, k float64) *Quadruped {
	q := &Quadruped{Root: s.Add(parent, Part{Name: root})}
	add := func(up int, word string, side Side, x, y, z float64) int {
		if side == RightSide {
			x = -x
		}
		return s.Add(up, Part{Name: n(word, side), Offset: r3.Scale(k, r3.Vec{X: x, Y: y, Z: z})})
	}
	q.Hips = add(q.Root, "hips", Middle, 0, 58, -28)
	q.Spine = add(q.Hips, "spine", Middle, 0, 2, 16)
	q.Chest = add(q.Spine, "chest", Middle, 0, 0, 24)
	q.Neck = add(q.Chest, "neck", Middle, 0, 8, 16)
	q.Head = add(q.Neck, "head", Middle, 0, 15, 12)
	for side := LeftSide; side <= RightSide; side++ {
		q.Ear[side] = add(q.Head, "ear", side, 5, 7, -2)
	}
	q.Nose = add(q.Head, "head_tip", Middle, 0, -2, 18)
	s.Parts[q.Nose].Kind = Tip
	up := q.Hips
	for i, word := range []string{"tail_a", "tail_b", "tail_c", "tail_d"} {
		drop := []float64{2, -4, -3, -1}[i]
		up = add(up, word, Middle, 0, drop, -9)
		q.Tail = append(q.Tail, up)
	}
	s.Parts[add(up, "tail_tip", Middle, 0, 0, -9)].Kind = Tip
	for side := LeftSide; side <= RightSide; side++ {
		q.Front[side] = add(q.Chest, "front_upperleg", side, 8, -4, 6)
		q.FrontLow[side] = add(q.Front[side], "front_lowerleg", side, 0, -26, 0)
		q.FrontPaw[side] = add(q.FrontLow[side], "front_paw", side, 0, -26, 0)
		q.FrontTip[side] = add(q.FrontPaw[side], "front_toe", side, 0, -3, 6)
		q.Hind[side] = add(q.Hips, "hind_upperleg", side, 8, -2, -2)
		q.HindLow[side] = add(q.Hind[side], "hind_lowerleg", side, 0, -27, 0)
		q.HindPaw[side] = add(q.HindLow[side], "hind_paw", side, 0, -27, 0)
		q.HindTip[side] = add(q.HindPaw[side], "hind_toe", side, 0, -3, 6)
		s.Parts[q.FrontTip[side]].Kind, s.Parts[q.HindTip[side]].Kind = Tip, Tip
	}
	s.Figures = append(s.Figures, Figure{Name: root, Root: q.Root})
	return q
}

// Plant puts one paw at goal in the space of part frame, turned as facing says.
func (q *Quadruped) Plant(s *Shot, front bool, side, frame int, goal func(float64) r3.Vec, facing func(float64) quat.Number) {
	l := Limb{Upper: q.Hind[side], Lower: q.HindLow[side], End: q.HindPaw[side], RestPole: r3.Vec{Z: 1}}
	knee := 1.0
	if front {
		l = Limb{Upper: q.Front[side], Lower: q.FrontLow[side], End: q.FrontPaw[side], RestPole: r3.Vec{Z: -1}}
		knee = -1
	}
	l.Frame, l.Goal, l.Facing = frame, goal, facing
	l.Pole = func(t float64) r3.Vec {
		p := Rotate(facing(t), r3.Vec{Z: knee})
		return r3.Vec{X: p.X, Z: p.Z}
	}
	s.addLimb(l)
}
