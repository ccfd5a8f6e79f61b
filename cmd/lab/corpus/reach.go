package corpus

import (
	"math"

	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/cmd/lab/designed"
)

// reach is a limb whose end is put where a planter wants it: an arm, a lifted
// paw, a wing.
type reach struct {
	parts []int // from the shoulder to the tip
	rest  r3.Vec
	// size is the figure's size: the longest way between two of its tips.
	size float64
	put  func(goal func(t float64) r3.Vec)
}

// reacher puts a figure with a limb that reaches on the stage; paws are feet.
func (s *stage) reacher(paws bool) reach {
	switch k := s.seed.Int(4); {
	case k == 0 && paws:
		return s.paw()
	case k <= 1:
		return s.wing()
	}
	s.anyOf([]castKind{(*stage).biped, (*stage).biped, (*stage).onDeck})
	return s.arms(s.seed.Int(2))
}

// arms is an arm of the biped.
func (s *stage) arms(side int) reach {
	rest := r3.Scale(s.k, r3.Vec{X: 24 * out(side), Y: 116, Z: 25})
	facing := designed.Turn3(designed.Still(-65), designed.Still(-10*out(side)), nil)
	return reach{
		parts: []int{s.Upper[side], s.Fore[side], s.Hand[side], s.HandTip[side], s.Clav[side]}, rest: rest, size: 225 * s.k,
		put: func(goal func(float64) r3.Vec) { s.HoldHand(s.Shot, side, s.Root, goal, facing) },
	}
}

// paw is a quadruped that has lifted a front paw.
func (s *stage) paw() reach {
	q := s.quadruped()
	side := s.seed.Int(2)
	return reach{
		parts: []int{q.Front[side], q.FrontLow[side], q.FrontPaw[side], q.FrontTip[side]},
		rest:  r3.Scale(s.k, r3.Vec{X: 9 * out(side), Y: 34, Z: 34}), size: 165 * s.k,
		put: func(goal func(float64) r3.Vec) {
			q.Plant(s.Shot, true, side, q.Root, goal, designed.Turn3(designed.Still(20), nil, nil))
		},
	}
}

// wing is a bird that sits and reaches out with a wing.
func (s *stage) wing() reach {
	b := s.bird()
	side := s.seed.Int(2)
	way := out(side)
	return reach{
		parts: []int{b.Wing[side], b.Mid[side], b.Outer[side], b.WingTip[side]},
		rest:  r3.Scale(s.k, r3.Vec{X: 28 * way, Y: 10, Z: 6}), size: 137 * s.k,
		put: func(goal func(float64) r3.Vec) {
			s.Reach(designed.Limb{Upper: b.Wing[side], Lower: b.Mid[side], End: b.Outer[side], Frame: b.Root, Goal: goal,
				Facing: func(float64) quat.Number { return designed.Turned([3]float64{0, 0, 8 * way}) },
				Pole:   func(float64) r3.Vec { return r3.Vec{Y: 0.4, Z: 1} }, RestPole: r3.Vec{Z: 1}})
		},
	}
}

// curve is a flat path of length 1 by the share of its length.
type curve func(u float64) (along, across float64)

// heading makes the curve that heads where h says, in degrees, along its length.
func heading(h func(u float64) float64) curve {
	const n = 600
	var x, y [n + 1]float64
	for i := range n {
		a := h((float64(i)+0.5)/n) * math.Pi / 180
		x[i+1], y[i+1] = x[i]+math.Cos(a)/n, y[i]+math.Sin(a)/n
	}
	return func(u float64) (float64, float64) {
		p := min(max(u, 0), 1) * n
		i := min(int(p), n-1)
		f := p - float64(i)
		return x[i] + f*(x[i+1]-x[i]), y[i] + f*(y[i+1]-y[i])
	}
}

// bend heads straight on until from, turns by angle evenly until to, and goes
// straight on.
func bend(from, to, angle float64) curve {
	return heading(func(u float64) float64 {
		switch {
		case u < from:
			return 0
		case u >= to:
			return angle
		}
		return angle * (u - from) / (to - from)
	})
}

// trace sends the limb's end along a curve of the given length, its middle at the
// limb's resting place, as progress says (0 to 1 over time). Ways that the limb
// cannot reach are thrown again; steep is true for a way that falls.
func (s *stage) trace(r reach, c curve, long float64, steep bool, progress designed.Signal) {
	mx, my := c(0.5)
	var drift [3]designed.Signal
	for axis := range 3 {
		drift[axis] = designed.Drift(s.fork(), 0.0012*r.size)
	}
	var along, across r3.Vec
	r.put(func(t float64) r3.Vec {
		x, y := c(progress(t))
		at := r3.Add(r.rest, r3.Add(r3.Scale(long*(x-mx), along), r3.Scale(long*(y-my), across)))
		return r3.Add(at, r3.Vec{X: drift[0](t), Y: drift[1](t), Z: drift[2](t)})
	})
	for try := range 160 {
		along, across = s.directions(steep)
		if s.stretch(r.parts[0]) < 0.95 {
			return
		}
		if try > 120 {
			long *= 0.97
		}
	}
}

// stretch is how far the limb that begins at a part is stretched at most.
func (s *stage) stretch(upper int) float64 {
	most := 0.0
	for i := range s.Limbs {
		if l := &s.Limbs[i]; l.Upper == upper {
			most = 0
			for t := 0.0; t <= seconds; t += 0.1 {
				most = max(most, l.Extension(s.Shot, t))
			}
		}
	}
	return most
}

// directions are two unit vectors at a right angle, the first well off the
// vertical or, if steep, down.
func (s *stage) directions(steep bool) (along, across r3.Vec) {
	yaw, pitch := s.seed.Between(0, 2*math.Pi), s.seed.Between(-0.6, 0.6)
	if steep {
		pitch = -s.seed.Between(1.48, 1.56)
	}
	along = r3.Vec{X: math.Cos(yaw) * math.Cos(pitch), Y: math.Sin(pitch), Z: math.Sin(yaw) * math.Cos(pitch)}
	side := r3.Unit(r3.Cross(along, r3.Vec{X: 0.3, Y: 1}))
	roll := s.seed.Between(0, 2*math.Pi)
	return along, r3.Add(r3.Scale(math.Cos(roll), side), r3.Scale(math.Sin(roll), r3.Cross(side, along)))
}
