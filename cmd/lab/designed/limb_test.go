package designed

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// arm is a limb of two bones on a part that moves.
func arm(goal r3.Vec) *Shot {
	s := NewShot("arm", 1)
	body := s.Add(-1, Part{Name: "body", Offset: r3.Vec{Y: 10}, Turn: [3]Signal{Still(20), Wave(15, 1, 0), Still(-8)}})
	up := s.Add(body, Part{Name: "up", Offset: r3.Vec{X: 1}})
	low := s.Add(up, Part{Name: "low", Offset: r3.Vec{Y: -4}})
	end := s.Add(low, Part{Name: "end", Offset: r3.Vec{Y: -3}})
	s.addLimb(Limb{Upper: up, Lower: low, End: end, Frame: -1, RestPole: r3.Vec{Z: -1},
		Goal: func(float64) r3.Vec { return goal }, Facing: func(float64) quat.Number { return About(Y, 30) },
		Pole: func(float64) r3.Vec { return r3.Vec{Z: -1} }})
	return s
}

// TestLimb reaches goals, keeps its end turned, and bends by the law of cosines.
func TestLimb(t *testing.T) {
	for _, goal := range []r3.Vec{{X: 1, Y: 5, Z: 1}, {X: 4, Y: 8, Z: 2}, {X: 2, Y: 6, Z: -3}} {
		s := arm(goal)
		for _, at := range []float64{0, 0.2, 0.7} {
			p := s.solve(at)
			if d := r3.Norm(r3.Sub(p.world[3].At, goal)); d > 1e-9 {
				t.Errorf("%g off the goal %v", d, goal)
			}
			if a := Angle(p.world[3].Turn, About(Y, 30)); a > 1e-5 {
				t.Errorf("the end is turned %g degrees off", a)
			}
			d := r3.Norm(r3.Sub(goal, p.world[1].At))
			want := math.Acos((16 + 9 - d*d) / 24) // sides 4 and 3
			a := r3.Sub(p.world[1].At, p.world[2].At)
			b := r3.Sub(p.world[3].At, p.world[2].At)
			if got := math.Acos(r3.Cos(a, b)); math.Abs(got-want) > 1e-9 {
				t.Errorf("the joint is bent to %g, wanted %g", got, want)
			}
		}
	}
}

// TestLimbOutOfReach stretches towards what is too far and folds for what is too
// near, without a fault.
func TestLimbOutOfReach(t *testing.T) {
	for _, goal := range []r3.Vec{{X: 100}, {X: 1, Y: 10.1}} {
		s := arm(goal)
		p := s.solve(0)
		for _, f := range p.world {
			if v := f.At.X + f.At.Y + f.At.Z + f.Turn.Real; math.IsNaN(v) || math.IsInf(v, 0) {
				t.Errorf("goal %v gives %v", goal, f)
			}
		}
	}
}
