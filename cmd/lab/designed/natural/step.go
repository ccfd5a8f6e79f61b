package natural

import (
	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/cmd/lab/designed"
)

// foot is one that stands, and now and then steps somewhere else.
type foot struct {
	x, z, turn *designed.Line
	lifts      []designed.Signal
}

// feet puts both feet on the ground with lines that can move them.
func (a *actor) feet(half float64) [2]*foot {
	var out [2]*foot
	for side := range 2 {
		sign := 1 - 2*float64(side)
		f := &foot{x: designed.NewLine(half * sign), z: designed.NewLine(0), turn: designed.NewLine(10 * sign)}
		goal := func(t float64) r3.Vec {
			lift := designed.Add(f.lifts...)
			return r3.Scale(a.Size, r3.Vec{X: f.x.Signal()(t), Y: 9 + lift.At(t, 0), Z: f.z.Signal()(t)})
		}
		tilt := func(t float64) float64 { return 1.1 * designed.Add(f.lifts...).At(t, 0) }
		a.PlantFoot(a.Shot, side, a.Root, goal, designed.Turn3(tilt, later(f.turn, 1), nil))
		out[side] = f
	}
	return out
}

// step is a biped that stands, shifts its weight and takes a step now and then.
func (m *maker) step() {
	a := m.actor(-1, "Mate")
	feet := a.feet(m.seed.Between(10, 14))
	x, z, y := a.line(a.Hips, designed.X, true, 0), a.line(a.Hips, designed.Z, true, 0), a.line(a.Hips, designed.Y, true, -6)
	roll := a.line(a.Hips, designed.Z, false, 0)
	arms, face := a.arms(), a.face()
	look, tilt := a.line(a.Head, designed.Y, false, 0), a.line(a.Chest, designed.Z, false, 0)
	side := m.seed.Int(2)
	for t := m.seed.Between(0.3, 0.9); t < m.Seconds-1.8; t += m.seed.Between(1.7, 2.6) {
		stay, move := feet[1-side], feet[side]
		sign := 1 - 2*float64(side)
		b := beat{t, m.seed.Between(0.4, 0.6)}
		look.To(t-0.08, 0.4, m.seed.Between(-18, 18), m.accent())
		face(b)
		// The weight goes over the foot that stays, then the other one steps.
		x.To(t, 0.5, stay.x.Value()*0.62, designed.Accent{})
		roll.To(t+0.04, 0.5, 2.5*sign, designed.Accent{})
		tilt.To(t+0.1, 0.5, -1.8*sign, designed.Accent{})
		forward := stay.z.Value() + m.seed.Between(-12, 24)
		at, dur := t+0.38, m.seed.Between(0.34, 0.48)
		move.z.To(at, dur, forward, designed.Accent{})
		move.x.To(at, dur, stay.x.Value()+sign*m.seed.Between(20, 28), designed.Accent{})
		move.turn.To(at+0.03, dur-0.03, sign*m.seed.Between(6, 16), designed.Accent{})
		move.lifts = append(move.lifts, designed.Arch(at-0.03, at+dur, m.seed.Between(6, 10)))
		// Then the body comes over both.
		x.To(at+dur*0.6, 0.6, (stay.x.Value()+move.x.Value())/2, m.accent())
		z.To(at+0.1, 0.7, (stay.z.Value()+forward)/2, designed.Accent{})
		y.To(at+dur*0.5, 0.5, -6-m.seed.Between(0, 1.5), designed.Accent{})
		roll.To(at+dur*0.7, 0.55, 0, designed.Accent{})
		tilt.To(at+dur*0.85, 0.6, 0, designed.Accent{})
		arms(beat{t + m.seed.Between(0.1, 0.4), b.dur})
		side = 1 - side
	}
	a.done()
	a.living()
}
