package designed

import (
	"math"

	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Limb is a chain of two bones whose end is put where Goal says: a leg that
// keeps its foot on a rolling deck, an arm that keeps its hand on a rope. It is
// solved in closed form (law of cosines), so a planted foot does not move.
//
// The bones run from Upper to Lower (a child of Upper) to End (a child of
// Lower), straight at rest.
type Limb struct {
	Upper, Lower, End int
	// Frame is the part in whose space Goal and Pole are given, or -1 for the
	// world; it must stand before Upper in the shot.
	Frame int
	// Goal is where the pivot of End shall be. Facing, where set, is how End
	// shall be turned in Frame; otherwise End turns by its own signals.
	Goal   func(t float64) r3.Vec
	Facing func(t float64) quat.Number
	// Pole is the direction, in Frame, to which the middle joint bends, and
	// RestPole that direction in Upper's own frame at rest, at a right angle
	// to the bone.
	Pole     func(t float64) r3.Vec
	RestPole r3.Vec
}

// MaxReach is the share of a limb's length to which it stretches at most; a
// goal farther away is not reached.
const MaxReach = 0.9995

// solve turns Upper and Lower (and End, with a Facing) of the pose at time t.
func (l *Limb) solve(s *Shot, p *pose, t float64) {
	frame := origin
	if l.Frame >= 0 {
		frame = p.world[l.Frame]
	}
	up := origin
	if parent := s.Parts[l.Upper].Parent; parent >= 0 {
		up = p.world[parent]
	}
	bone1, bone2 := p.local[l.Lower].At, p.local[l.End].At
	root := up.Point(p.local[l.Upper].At)
	goal := frame.Point(l.Goal(t))
	pole := Rotate(frame.Turn, l.Pole(t))

	along, side := basis(r3.Sub(goal, root), pole)
	cos1, cos2 := bend(r3.Norm(bone1), r3.Norm(bone2), r3.Norm(r3.Sub(goal, root)))
	e1 := r3.Add(r3.Scale(cos1, along), r3.Scale(sine(cos1), side))
	e2 := r3.Sub(r3.Scale(cos2, along), r3.Scale(sine(cos2), side))
	hinge := r3.Cross(along, side)

	rest1, rest2 := r3.Unit(bone1), r3.Unit(bone2)
	restHinge := r3.Unit(r3.Cross(rest1, l.RestPole))
	turn1 := between(rest1, restHinge, e1, hinge)
	turn2 := between(rest2, restHinge, e2, hinge)
	p.turn(s, l.Upper, quat.Mul(quat.Conj(up.Turn), turn1))
	p.turn(s, l.Lower, quat.Mul(quat.Conj(turn1), turn2))
	if l.Facing != nil {
		want := quat.Mul(frame.Turn, l.Facing(t))
		p.turn(s, l.End, quat.Mul(quat.Conj(turn2), want))
	}
}

// Extension returns how far the limb is stretched at time t: the distance from
// its root to its end as a share of its length.
func (l *Limb) Extension(s *Shot, t float64) float64 {
	p := s.solve(t)
	a, b, c := p.world[l.Upper].At, p.world[l.Lower].At, p.world[l.End].At
	return r3.Norm(r3.Sub(c, a)) / (r3.Norm(r3.Sub(b, a)) + r3.Norm(r3.Sub(c, b)))
}

// basis returns the unit vector along d and the unit vector at a right angle to
// it that leans to pole.
func basis(d, pole r3.Vec) (along, side r3.Vec) {
	along = r3.Unit(d)
	side = r3.Sub(pole, r3.Scale(r3.Dot(pole, along), along))
	return along, r3.Unit(side)
}

// bend returns the cosines of the angles that the first and the second bone
// make with the line to a goal at distance d.
func bend(l1, l2, d float64) (cos1, cos2 float64) {
	d = max(min(d, MaxReach*(l1+l2)), math.Abs(l1-l2)*1.0005)
	cos1 = (d*d + l1*l1 - l2*l2) / (2 * d * l1)
	cos2 = (d*d + l2*l2 - l1*l1) / (2 * d * l2)
	return min(cos1, 1), min(cos2, 1)
}

func sine(cos float64) float64 { return math.Sqrt(max(0, 1-cos*cos)) }

// between is the rotation that takes the unit vectors a, h (at a right angle) to
// a2, h2.
func between(a, h, a2, h2 r3.Vec) quat.Number {
	from := fromBasis(a, h, r3.Cross(a, h))
	to := fromBasis(a2, h2, r3.Cross(a2, h2))
	return quat.Mul(to, quat.Conj(from))
}
