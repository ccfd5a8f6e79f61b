package designed

import (
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Pass says which pass of the deckhand's shot is made.
type Pass struct {
	Name string
	// Polish is the finished pass; without it the shot has the flaws of an
	// earlier one planted in it.
	Polish bool
	// LookSooner is how many frames (at 24) the look at the gull comes sooner
	// than planned; nothing else moves.
	LookSooner float64
}

// The passes of the shot.
var (
	SplinePass   = Pass{Name: "spline"}
	PolishPass   = Pass{Name: "polish", Polish: true}
	RetimedPass  = Pass{Name: "retimed", Polish: true, LookSooner: 2}
	firstFrame   = 1001
	deckhandLast = 95.0 // frames after the first
)

// Deckhand is the shot of the night ferry: Tug reaches for the rope, hauls,
// looks up at a gull, holds, looks back and hauls again, on a rolling deck. It
// has 96 frames at 24 per second.
//
// In frames after the first: left hand to the rope 1-10, lean in 10-17, haul
// 17-28, settle to 33; look at the gull 30-46; hold to 57; look back 57-71,
// reach 63-73, haul 72-84, settle to 91.
func Deckhand(p Pass) *Shot {
	s := NewShot("deckhand_"+p.Name, frames24(deckhandLast))
	s.First = firstFrame
	s.Note = map[bool]string{
		false: "Tug hauls a rope on a rolling deck: the pass before the polish, with flaws planted in it",
		true:  "Tug hauls a rope on a rolling deck: the polished pass",
	}[p.Polish]
	d := &deckhand{Shot: s, pass: p}
	d.rope()
	spin := func(t float64) float64 { return 140 * t }
	NewFerry(s, func(t float64) r3.Vec { return d.onRope(d.right(t), t) }, spin)
	d.Body = NewBody(s, -1, "Tug", Snake, 1)
	s.Parts[d.Root] = aboard(s.Parts[d.Root])
	d.haul()
	d.look()
	d.face()
	d.hands()
	d.feet()
	if p.Polish {
		d.life()
	} else {
		d.plant()
	}
	addGull(s)
	return s
}

// deckhand is the shot while it is being made.
type deckhand struct {
	*Shot
	*Body
	pass        Pass
	right, left Signal // how far along the deck each hand holds the rope
	sag         Signal // how much higher than straight the rope runs there
}

// at is a pose at a frame after the first.
func at(frame, v float64) Pose { return Pose{frames24(frame), v} }

// when chooses between the earlier pass and the polish.
func (d *deckhand) when(spline, polish float64) float64 {
	if d.pass.Polish {
		return polish
	}
	return spline
}

// rope plans where the hands hold the rope: paid out a little in the lean,
// hauled, then hand over hand.
func (d *deckhand) rope() {
	hauls := func(r1, r2 float64) Signal {
		return Through(MinimumJerk,
			at(9, 46), at(16.5, 61), at(17.5, 61), at(28.5, 25),
			at(r1, 25), at(r2, 60), at(73, 60), at(84.5, 25))
	}
	d.right = hauls(63, 71.5)
	d.left = Add(hauls(65.5, 73.5), Still(-24))
	// Hands dip when they haul and rise when they pay out.
	d.sag = Add(Arch(frames24(9), frames24(16.5), 3), Arch(frames24(17.5), frames24(28.5), -4.5), Arch(frames24(73), frames24(84.5), -4.5))
	if d.pass.Polish {
		// The rope gives under the pull and comes back.
		give := Add(Settle(frames24(28.5), frames24(7), -1.6, 0.45, 3), Settle(frames24(85), frames24(7), -1.5, 0.4, 1))
		d.right, d.left = Add(d.right, give), Add(d.left, give)
	} else {
		slack := Stroke(MinimumJerk, frames24(34), frames24(46), -0.3)
		d.right, d.left = Add(d.right, slack), Add(d.left, slack)
	}
}

// onRope is the point of the rope at distance z along the deck at time t.
func (d *deckhand) onRope(z, t float64) r3.Vec { return r3.Vec{Y: 106 - 0.136*z + d.sag(t), Z: z} }

// haulProfile is the first haul's: the earlier pass has a stutter in it.
func (d *deckhand) haulProfile() Profile {
	if d.pass.Polish {
		return MinimumJerk
	}
	return Stuttered(MinimumJerk, 0.5, 0.17, 0.15)
}

// pull runs through the poses of both hauls, d frames late: ready, leaning in,
// hauled, settled, leaning in again, hauled, settled.
func (d *deckhand) pull(late float64, v [7]float64) Signal {
	f := func(n float64) float64 { return frames24(n + late) }
	first := Stroke(d.haulProfile(), f(17), f(28), v[2]-v[1])
	rest := Through(MinimumJerk,
		Pose{f(10), v[0]}, Pose{f(17), v[1]}, Pose{f(28), v[1]}, Pose{f(32.6), v[1] + v[3] - v[2]},
		Pose{f(63), v[1] + v[3] - v[2]}, Pose{f(72.5), v[1] + v[4] - v[2]},
		Pose{f(84), v[1] + v[5] - v[2]}, Pose{f(91), v[1] + v[6] - v[2]})
	return Add(first, rest)
}

// haul is the body's part of both hauls: the hips first, spine, chest and head
// after.
func (d *deckhand) haul() {
	d.Shift(d.Hips, Y, d.pull(0, [7]float64{-4, -6.5, -10, -8.5, -6, -11, -9}))
	d.Shift(d.Hips, Z, d.pull(0.4, [7]float64{-4, 5, -14, -12, 4, -16, -13.5}))
	d.Ease(d.Hips, X, d.pull(0.2, [7]float64{2, 5, -4, -3, 5, -5, -4}))
	lag := d.when(1, 1.2)
	d.Ease(d.Spine, X, d.pull(lag, [7]float64{4, 10, -5, -3.5, 9, -6, -4.5}))
	d.Ease(d.Chest, X, d.pull(lag+d.when(0.3, 0.9), [7]float64{4, 12, -7, -5, 11, -9, -6.5}))
	d.Ease(d.Head, X, d.pull(-0.8, [7]float64{0, -12, 8, 6, -11, 9, 7}))
	if d.pass.Polish {
		d.Ease(d.Neck, X, d.pull(2.2, [7]float64{0, -3, 4, 2.5, -3, 4.5, 2.5}))
		d.Ease(d.Hips, Y, d.pull(-0.4, [7]float64{3, 6, -4, -3, 7, -4, -2}))
	}
	// The shoulder goes along with the hand that reaches.
	twist := Through(MinimumJerk, at(62.5, 0), at(70, 11), at(77, -3), at(87, 2))
	d.Ease(d.Chest, Y, twist)
}

// look turns the head to the gull and back. The earlier pass turns it at one
// speed; the polish lets the eyes lead, the neck help, and the head dip.
func (d *deckhand) look() {
	sooner := frames24(d.pass.LookSooner)
	f := func(n float64) float64 { return frames24(n) - sooner }
	if d.pass.Polish {
		d.Ease(d.Head, Y, Add(Stroke(MinimumJerk, f(33), f(46.5), 38), Stroke(MinimumJerk, frames24(59.5), frames24(70.5), -38)))
		d.Ease(d.Neck, Y, Add(Stroke(MinimumJerk, f(34), f(48), 13), Stroke(MinimumJerk, frames24(60.5), frames24(72.5), -13)))
		d.Ease(d.Head, X, Add(Arch(f(33), f(46.5), 7), Arch(frames24(59.5), frames24(70.5), 6)))
		d.Ease(d.Head, Z, Add(Stroke(MinimumJerk, f(34), f(48), -4), Stroke(MinimumJerk, frames24(60), frames24(71.5), 4)))
		d.Ease(d.Chest, Y, Add(Stroke(MinimumJerk, f(36), f(50), 5), Stroke(MinimumJerk, frames24(61.5), frames24(74), -5)))
	} else {
		even := Wavering(Trapezoid(1./12), 0.01, 3)
		d.Ease(d.Head, Y, Add(Stroke(even, f(34), f(46), 52), Stroke(MinimumJerk, frames24(60), frames24(72.5), -52)))
	}
	gaze := Add(
		Stroke(HalfCosine, f(31.5), f(34.5), 24), Stroke(MinimumJerk, f(37), f(45), -18),
		Stroke(HalfCosine, frames24(58), frames24(61), -22), Stroke(MinimumJerk, frames24(63), frames24(70), 16))
	for i := range 2 {
		d.Ease(d.Eye[i], Y, gaze)
	}
}

// face changes the brows and the lids three times: surprise at the gull, a
// frown before the second haul, relief after it. The earlier pass changes both
// on the same frames; the polish lets the lids follow by two.
func (d *deckhand) face() {
	sooner := frames24(d.pass.LookSooner)
	change := func(late, up, down, relief float64) Signal {
		f := func(n float64) float64 { return frames24(n + late) }
		return Add(Stroke(MinimumJerk, f(30)-sooner, f(34)-sooner, up),
			Stroke(MinimumJerk, f(57), f(61), down), Stroke(MinimumJerk, f(86), f(90), relief))
	}
	for i := range 2 {
		k := 1 - 0.15*float64(i)
		d.Ease(d.Brow[i], X, change(0, -12*k, 20*k, -8*k))
		d.Ease(d.Lid[i], X, Add(Still(10), change(d.when(0, 2), -8, 14, -6)))
	}
	d.Ease(d.Jaw, X, Add(Still(2),
		Stroke(MinimumJerk, frames24(15.5), frames24(19.5), 5), Stroke(MinimumJerk, frames24(27), frames24(31), -5),
		Stroke(MinimumJerk, frames24(73.5), frames24(77.5), 5), Stroke(MinimumJerk, frames24(83.5), frames24(88.5), -4)))
}

// hands puts both hands on the rope. The left one starts free and reaches for
// it; later the right and then the left reach forward for a new hold.
func (d *deckhand) hands() {
	grip := [2]r3.Vec{Left: {X: 8, Y: 3, Z: -7}, Right: {X: -7, Y: 3, Z: -7}}
	lift := func(side int, from, to, high, out float64) (x, y Signal) {
		return Arch(frames24(from), frames24(to), out*(1-2*float64(side))), Arch(frames24(from), frames24(to), high)
	}
	rx, ry := lift(Right, 63, 71.5, 8, 5)
	lx, ly := lift(Left, 65.5, 73.5, 9, 6)
	fx, fy := lift(Left, 1, 10, d.when(0, 7), d.when(0, 7))
	free := r3.Vec{X: 34, Y: 86, Z: -8}
	reach := Stroke(MinimumJerk, frames24(1), frames24(10), 1)
	onto := func(t float64) r3.Vec {
		held := r3.Add(d.onRope(d.left(t), t), r3.Add(grip[Left], r3.Vec{X: lx(t), Y: ly(t)}))
		w := reach(t)
		return r3.Add(r3.Add(r3.Scale(1-w, free), r3.Scale(w, held)), r3.Vec{X: fx(t), Y: fy(t)})
	}
	fist := func(t float64) r3.Vec {
		return r3.Add(d.onRope(d.right(t), t), r3.Add(grip[Right], r3.Vec{X: rx(t), Y: ry(t)}))
	}
	d.HoldHand(d.Shot, Left, d.Root, onto, d.facing(Left, Stroke(MinimumJerk, frames24(1+d.when(0, 1)), frames24(10+d.when(0, 1)), -d.when(12, 26))))
	d.HoldHand(d.Shot, Right, d.Root, fist, d.facing(Right, nil))
}

// facing turns a hand along the rope, its fingers forward.
func (d *deckhand) facing(side int, close Signal) func(float64) quat.Number {
	in := -12 * (1 - 2*float64(side))
	down := -76.0
	if close != nil {
		down -= close(d.Length)
	}
	relax := Signal(nil)
	if d.pass.Polish {
		from, to := 63.5, 72.5
		if side == Left {
			from, to = 66, 75
		}
		relax = Arch(frames24(from), frames24(to), 14)
	}
	return Turn3(Add(Still(down), close, relax), Still(in), nil)
}

// feet plants both feet on the deck. In the earlier pass the left one slides in
// the second haul.
func (d *deckhand) feet() {
	slide := Signal(nil)
	if !d.pass.Polish {
		slide = Stroke(MinimumJerk, frames24(72), frames24(84), 11)
	}
	d.PlantFoot(d.Shot, Left, d.Root, Place3(r3.Vec{X: 20, Y: 9, Z: 20}, nil, nil, slide), Turn3(nil, Still(14), nil))
	d.PlantFoot(d.Shot, Right, d.Root, Place3(r3.Vec{X: -20, Y: 9, Z: -16}, nil, nil, nil), Turn3(nil, Still(-24), nil))
}
