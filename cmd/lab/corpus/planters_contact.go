package corpus

import (
	"math"

	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/cmd/lab/designed"
)

// contactPlanters plant the flaws of hands and feet that touch something.
var contactPlanters = map[string]planter{
	"grip-slip":    plantGrip,
	"sunk-contact": plantSunk,
	"free-fall":    plantFlight,
	"off-balance":  plantBalance,
}

// flatTurn is a foot turned out by degrees and otherwise flat.
func flatTurn(degrees float64) func(float64) quat.Number {
	return designed.Turn3(nil, designed.Still(degrees), nil)
}

// plantGrip lets a hand slide on the box or the staff that it carries, or hold
// it, or let go.
func plantGrip(s *stage, flawed bool) {
	k := s.k
	prop := s.Add(-1, designed.Part{Name: []string{"Box", "Staff", "Lantern", "Oar"}[s.seed.Int(4)], Offset: r3.Scale(k, r3.Vec{Y: 104, Z: 30})})
	s.biped()
	from := s.seed.Between(0.6, 1.2)
	to := from + s.seed.Between(2.6, 3.4)
	// Up, across and down again: the prop is carried for most of the scene.
	s.Shift(prop, designed.Y, designed.Times(k, designed.Add(designed.Stroke(minJerk, from, from+0.9, s.seed.Between(14, 20)), designed.Stroke(minJerk, to-0.8, to, -s.seed.Between(12, 18)))))
	s.Shift(prop, designed.X, designed.Times(k, designed.Add(designed.Stroke(minJerk, from+0.7, from+1.9, s.seed.Between(16, 22)), designed.Stroke(minJerk, to-1.2, to-0.1, -s.seed.Between(22, 30)))))
	s.Shift(prop, designed.Z, designed.Times(k, designed.Swell(from+0.3, to-0.3, 7)))
	for axis := range 3 {
		s.Shift(prop, axis, designed.Drift(s.fork(), 0.4*k))
	}
	both := s.seed.Chance(0.5)
	side := s.seed.Int(2)
	var slide designed.Signal
	if at := from + s.seed.Between(0.5, 1.3); flawed {
		slide = designed.Stroke(minJerk, at, at+s.seed.Between(0.5, 0.9), s.seed.Between(6.5, 8)*k*s.seed.Sign())
	}
	for hand := range 2 {
		if !both && hand != side {
			continue
		}
		way := out(hand)
		at := r3.Scale(k, r3.Vec{X: 12 * way, Y: s.seed.Between(-1, 2)})
		var along, up designed.Signal
		if hand == side {
			along = slide
			if !flawed && both && s.seed.Chance(0.4) { // lets go and takes it again
				up = designed.Swell(to-1.6, to, 40*k)
			}
		}
		facing := designed.Turn3(designed.Still(-72), designed.Still(-10*way), nil)
		s.HoldHand(s.Shot, hand, prop, designed.Place3(at, nil, up, along), facing)
	}
	s.live(0, 0)
	s.plant("grip-slip", from, to, s.Upper[side], s.Fore[side], s.Hand[side], s.HandTip[side], prop)
}

// plantSunk presses a foot into the floor for a while, or sets it down on it.
func plantSunk(s *stage, flawed bool) {
	s.config.HasFloor = true
	s.anyOf([]castKind{(*stage).biped, (*stage).biped, withQuadruped})
	from, dur := s.seed.Between(1, 2.2), s.seed.Between(0.4, 0.6)
	stay := dur + s.seed.Between(0.3, 1.2)
	side := s.seed.Int(2)
	way := designed.Times(s.k, designed.Stroke(minJerk, from, from+dur, s.seed.Between(10, 16)))
	deep := 0.0
	if flawed {
		deep = -s.seed.Between(4.5, 6.5) * s.k
	}
	if s.Body == nil {
		deep *= 0.7
	}
	lift := designed.Add(designed.Arch(from, from+dur, 10*s.k), designed.Stroke(minJerk, from+0.5*dur, from+dur, deep), designed.Stroke(minJerk, from+stay, from+stay+0.5, -deep))
	if s.Body == nil {
		q := s.beast
		at := r3.Scale(s.k, r3.Vec{X: 8 * out(side), Y: 3.6, Z: 18})
		q.Plant(s.Shot, true, side, q.Root, designed.Place3(at, nil, lift, designed.Times(0.6, way)), flatTurn(4*out(side)))
		s.Shift(q.Hips, designed.Y, designed.Still(-3.5*s.k))
		s.live(0, 0)
		s.plant("sunk-contact", from+dur, from+stay, q.FrontPaw[side], q.FrontTip[side], q.FrontLow[side], q.Front[side])
		return
	}
	at := r3.Scale(s.k, r3.Vec{X: 16 * out(side), Y: 9, Z: 2})
	s.PlantFoot(s.Shot, side, s.Root, designed.Place3(at, nil, lift, way), flatTurn(12*out(side)))
	s.Shift(s.Hips, designed.Z, designed.Times(0.5, way))
	s.Shift(s.Hips, designed.Y, designed.Still(-4*s.k))
	s.live(0, 0)
	s.plant("sunk-contact", from+dur, from+stay, s.Foot[side], s.Toe[side], s.ToeTip[side], s.Shin[side], s.Thigh[side])
}

// earth is gravity in centimetres per second squared.
const earth = 980.665

// plantFlight lets a figure jump and hang in the air, float, drop like a stone or
// ease in and out of its height, or fly as a thrown body does.
func plantFlight(s *stage, flawed bool) {
	s.biped()
	off := s.seed.Between(1.6, 2.6)
	air := s.seed.Between(0.42, 0.62)
	high := earth * air * air / 8
	rise := func(t float64) float64 { // share of the height, 0 and 1 at the ends and in the middle
		x := 2*t - 1
		return 1 - x*x
	}
	if flawed {
		size := 225 * s.k
		switch s.seed.Int(3) {
		case 0: // hangs at the top
			high = max(high, s.seed.Between(0.24, 0.32)*size)
			rise = hang(s.seed.Between(0.45, 0.6))
		case 1: // eases out of the floor, into the height, out of it and into the floor
			high = max(high, s.seed.Between(0.24, 0.32)*size)
			rise = func(t float64) float64 { return minJerk(1 - math.Abs(2*t-1)) }
		default: // floats: the moon's gravity
			s.formats = metred
			air = s.seed.Between(0.8, 1.1)
			high = 0.3 * earth * air * air / 8
		}
	}
	flight := func(t float64) float64 {
		if t <= off || t >= off+air {
			return 0
		}
		return high * rise((t-off)/air)
	}
	s.jump(off, air, high, flight)
	s.live(0, 0)
	s.plant("free-fall", off, off+air, s.hips, s.root)
}

// hang rises, stays at the top for a share of the time, and falls.
func hang(share float64) func(float64) float64 {
	return func(t float64) float64 {
		side := min(t, 1-t) / (0.5 - share/2)
		if side >= 1 {
			return 1
		}
		return 1 - (1-side)*(1-side)
	}
}

// jump crouches the figure, throws it up along flight and lands it; feet leave the
// floor with the body.
func (s *stage) jump(off, air, high float64, flight designed.Signal) {
	k := s.k
	speed := 4 * high / air
	dip := 12 * k
	push := min(max(2*dip/max(speed, 1), 0.12), 0.35)
	crouch := designed.Add(designed.Stroke(minJerk, off-push-0.45, off-push, -dip), designed.Stroke(func(x float64) float64 { return x * x }, off-push, off, dip),
		designed.Stroke(func(x float64) float64 { return 1 - (1-x)*(1-x) }, off+air, off+air+push, -dip), designed.Stroke(minJerk, off+air+push, off+air+push+0.5, dip))
	s.Shift(s.hips, designed.Y, designed.Add(crouch, flight))
	for side := range 2 {
		at := r3.Scale(k, r3.Vec{X: 15 * out(side), Y: 9, Z: 7 * out(side)})
		tuck := designed.Arch(off, off+air, 0.25*high*float64(side)) // legs are no mirror images
		s.PlantFoot(s.Shot, side, s.root, designed.Place3(at, nil, designed.Add(flight, tuck), designed.Times(-0.8, tuck)), flatTurn(12*out(side)))
		s.Ease(s.Upper[side], designed.X, designed.Stroke(minJerk, off-push, off+0.2, -s.seed.Between(25, 45)))
		s.Ease(s.Fore[side], designed.X, designed.Stroke(minJerk, off-push+0.06, off+0.26, -s.seed.Between(10, 25)))
		s.Ease(s.Upper[side], designed.X, designed.Stroke(minJerk, off+air-0.1, off+air+0.5, s.seed.Between(25, 40)))
	}
}

// leans lets the body lean from the ankles so far forward that it would fall, or
// bows it with the hips going back against the weight.
func (s *stage) leans(flawed bool) {
	k := s.k
	from, dur := s.seed.Between(0.9, 1.6), s.seed.Between(0.6, 0.8)
	stay := from + dur + s.seed.Between(0.8, 1.8)
	way := func(size float64) designed.Signal {
		return designed.Add(designed.Stroke(minJerk, from, from+dur, size), designed.Stroke(minJerk, stay, stay+dur, -size))
	}
	forward, bow := s.seed.Between(36, 40)*k, s.seed.Between(18, 28)
	if !flawed {
		forward, bow = -s.seed.Between(6, 12)*k, s.seed.Between(30, 40)
	}
	s.Shift(s.Hips, designed.Z, way(forward))
	s.Shift(s.Hips, designed.Y, designed.Still(-8*k))
	s.Ease(s.Spine, designed.X, way(0.6*bow))
	s.Ease(s.Chest, designed.X, designed.Late(0.06, way(0.4*bow)))
	s.live(0, 0)
	s.plant("off-balance", from+dur, stay, s.Root, s.Hips)
}

// plantBalance lifts a foot or leans without bringing the weight over the foot
// that stays, or does bring it.
func plantBalance(s *stage, flawed bool) {
	s.biped()
	if s.seed.Chance(0.4) {
		s.leans(flawed)
		return
	}
	k := s.k
	side := s.seed.Int(2)
	stays := out(1 - side)
	from, dur := s.seed.Between(0.9, 1.6), s.seed.Between(0.5, 0.7)
	stay := from + 0.35 + dur + s.seed.Between(1, 1.8)
	half := s.seed.Between(19, 22) * k
	over := half
	if flawed {
		over = -s.seed.Between(0, 3) * k
	}
	shift := designed.Add(designed.Stroke(minJerk, from, from+dur, over*stays), designed.Stroke(minJerk, stay+0.3, stay+0.3+dur, -over*stays))
	lift := designed.Add(designed.Stroke(minJerk, from+0.35, from+0.35+dur, 22*k), designed.Stroke(minJerk, stay-0.2, stay-0.2+dur, -22*k))
	for i := range 2 {
		at := r3.Vec{X: half * out(i), Y: 9 * k, Z: 1 * k}
		if i != side {
			s.PlantFoot(s.Shot, i, s.Root, designed.Place3(at, nil, nil, nil), flatTurn(10*out(i)))
			continue
		}
		in := designed.Times(-0.4*out(i), lift)
		s.PlantFoot(s.Shot, i, s.Root, designed.Place3(at, in, lift, designed.Times(0.3, lift)), flatTurn(10*out(i)))
	}
	s.Shift(s.Hips, designed.X, shift)
	s.Shift(s.Hips, designed.Y, designed.Still(-3*k))
	s.Ease(s.Chest, designed.Z, designed.Times(0.12/k, shift))
	s.live(0, 0)
	s.plant("off-balance", from+0.35+dur, stay-0.2, s.Root, s.Hips)
}
