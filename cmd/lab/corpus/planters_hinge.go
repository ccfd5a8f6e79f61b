package corpus

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/cmd/lab/designed"
)

// hingePlanters plant the flaws of knees and elbows.
var hingePlanters = map[string]planter{
	"knee-pop":      plantSnap,
	"backward-bend": plantBackward,
}

// plantSnap lets a limb snap straight: a leg whose hips rise beyond its reach, an
// elbow that is thrown into its end, or a paw; or it eases into the reach.
func plantSnap(s *stage, flawed bool) {
	switch s.seed.Int(3) {
	case 0:
		s.elbowSnaps(flawed)
	case 1:
		s.pawSnaps(flawed)
	default:
		s.kneeSnaps(flawed)
	}
}

// kneeSnaps raises the body on planted feet until one leg is straight, or nearly.
func (s *stage) kneeSnaps(flawed bool) {
	s.biped()
	k := s.k
	from, dur := s.seed.Between(1.2, 2.6), s.seed.Between(0.5, 0.8)
	rise := designed.Times(k, designed.Add(designed.Stroke(minJerk, from-0.9, from-0.2, -11), designed.Stroke(minJerk, from, from+dur, 22)))
	s.Shift(s.Hips, designed.Y, rise)
	side := s.seed.Int(2)
	for i := range 2 {
		at := r3.Scale(k, r3.Vec{X: 13 * out(i), Y: 9, Z: 4 * out(i)})
		if i == side && flawed {
			at.Z += s.seed.Between(42, 48) * k * s.seed.Sign() // too far to stand on with the hips up
		}
		s.PlantFoot(s.Shot, i, s.Root, designed.Place3(at, nil, nil, nil), flatTurn(12*out(i)))
	}
	s.Shift(s.Hips, designed.Y, designed.Still(-1.5*k))
	s.live(0, 0)
	s.plant("knee-pop", from+0.15, from+dur, s.Shin[side], s.Thigh[side], s.Foot[side])
}

// elbowSnaps reaches for something farther off than the arm is long, or near
// enough.
func (s *stage) elbowSnaps(flawed bool) {
	s.biped()
	k := s.k
	side := s.seed.Int(2)
	from, dur := s.seed.Between(1.2, 3), s.seed.Between(0.45, 0.65)
	near := r3.Vec{X: 24 * out(side), Y: 112, Z: 18}
	far := r3.Vec{X: 22 * out(side), Y: s.seed.Between(105, 145), Z: s.seed.Between(66, 80)}
	if !flawed {
		far.Z = s.seed.Between(34, 40)
	}
	p := designed.Stroke(minJerk, from, from+dur, 1)
	bow := designed.Swell(from, from+dur, 5)
	goal := func(t float64) r3.Vec {
		return r3.Scale(k, r3.Add(r3.Add(near, r3.Scale(p(t), r3.Sub(far, near))), r3.Vec{X: out(side) * bow(t)}))
	}
	s.HoldHand(s.Shot, side, s.Root, goal, designed.Turn3(designed.Still(-60), nil, nil))
	s.live(0, 0)
	s.plant("knee-pop", from+0.1, from+dur, s.Fore[side], s.Upper[side], s.Hand[side])
}

// pawSnaps lets a quadruped stretch a front leg out to the floor too far away.
func (s *stage) pawSnaps(flawed bool) {
	q := s.quadruped()
	side := s.seed.Int(2)
	from, dur := s.seed.Between(1.2, 2.6), s.seed.Between(0.3, 0.45)
	far := 14.0
	if flawed {
		far = s.seed.Between(38, 46)
	}
	at := r3.Scale(s.k, r3.Vec{X: 8 * out(side), Y: 3.5, Z: 14})
	lift := designed.Times(s.k, designed.Arch(from, from+dur+0.1, 8))
	q.Plant(s.Shot, true, side, q.Root, designed.Place3(at, nil, lift, designed.Stroke(minJerk, from, from+dur, far*s.k)), flatTurn(4*out(side)))
	s.Shift(q.Hips, designed.Y, designed.Still(-2*s.k))
	s.live(0, 0)
	s.plant("knee-pop", from, from+dur, q.FrontLow[side], q.Front[side], q.FrontPaw[side])
}

// plantBackward bends an elbow or a knee past straight for a moment, or stops
// short of it.
func plantBackward(s *stage, flawed bool) {
	s.anyOf([]castKind{(*stage).biped, (*stage).biped, withQuadruped})
	s.live(0, 0)
	from, dur := s.seed.Between(1, 2.6), s.seed.Between(0.4, 0.7)
	stay := s.seed.Between(0.3, 0.9)
	side := s.seed.Int(2)
	over := s.seed.Between(11, 20)
	if !flawed {
		over = -s.seed.Between(4, 9)
	}
	hinge, upper, usual, sign := 0, 0, -s.seed.Between(30, 55), 1.0
	switch {
	case s.Body == nil: // a paw in the air
		q := s.beast
		s.free(q.Front[side])
		hinge, upper = q.FrontLow[side], q.Front[side]
		s.Ease(upper, designed.X, designed.Still(-20))
		s.Shift(q.Hips, designed.Y, designed.Still(-3*s.k))
	case s.seed.Chance(0.4): // a leg in the air, on which it does not stand
		s.free(s.Thigh[side])
		hinge, upper, sign = s.Shin[side], s.Thigh[side], -1
		s.Ease(upper, designed.X, designed.Still(-75))
		s.Shift(s.Hips, designed.X, designed.Still(-14*s.k*out(side)))
		s.Shift(s.Hips, designed.Y, designed.Still(-4*s.k))
	default:
		hinge, upper = s.Fore[side], s.Upper[side]
		s.Parts[hinge].Turn[designed.X] = nil
	}
	bend := designed.Add(designed.Still(usual), designed.Stroke(minJerk, from, from+dur, over-usual), designed.Stroke(minJerk, from+dur+stay, from+2*dur+stay, usual*0.7-over))
	s.Ease(hinge, designed.X, designed.Times(sign, bend))
	s.Ease(upper, designed.X, designed.Times(sign, designed.Stroke(minJerk, from-0.06, from+dur, math.Copysign(14, usual))))
	s.plant("backward-bend", from+dur-0.1, from+dur+stay+0.1, hinge, upper)
}

// free takes the limb that begins at a part from where it is planted.
func (s *stage) free(upper int) {
	kept := s.Limbs[:0]
	for _, l := range s.Limbs {
		if l.Upper != upper {
			kept = append(kept, l)
		}
	}
	s.Limbs = kept
}
