package natural

import (
	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/cmd/lab/designed"
)

// beast makes a quadruped with ears that flick and a tail that wags.
func (m *maker) beast() *designed.Quadruped {
	q := designed.NewQuadruped(m.Shot, -1, "Pup", m.Names, m.Size)
	m.wag(q.Tail, m.seed.Between(0.7, 1.3), 7)
	for side := range 2 {
		ear := designed.NewLine(0)
		for t := m.seed.Between(0.3, 1.5); t < m.Seconds-0.5; t += m.seed.Between(0.8, 2.5) {
			d := m.seed.Between(0.1, 0.18)
			ear.To(t, d, m.seed.Between(8, 22), designed.Accent{})
			ear.To(t+d, d*1.6, 0, designed.Accent{})
		}
		m.Ease(q.Ear[side], designed.Z, ear.Signal())
		m.alive(q.Ear[side], 1.5)
	}
	for _, p := range []int{q.Spine, q.Chest, q.Neck, q.Head} {
		m.alive(p, 1)
	}
	period := m.seed.Between(1.6, 2.4)
	m.Ease(q.Chest, designed.X, designed.Breath(0.7, period, 0))
	m.Ease(q.Neck, designed.X, designed.Breath(-0.8, period, -0.12))
	return q
}

// look turns a quadruped's head about: neck and head with times of their own.
func (m *maker) look(q *designed.Quadruped, low float64) {
	yaw, pitch, neck, turn := designed.NewLine(0), designed.NewLine(0), designed.NewLine(10), designed.NewLine(0)
	for _, b := range m.beats() {
		v := m.seed.Between(-30, 30)
		yaw.To(b.at, b.dur, v, m.accent())
		turn.To(b.at+m.seed.Between(0.06, 0.14), b.dur*1.1, v*0.4, m.accent())
		pitch.To(b.at+m.seed.Between(0.02, 0.08), b.dur*0.9, m.seed.Between(-10, 14), m.accent())
		neck.To(b.at+m.seed.Between(0.1, 0.2), b.dur*1.2, m.seed.Between(0, low), m.accent())
	}
	m.Ease(q.Head, designed.Y, yaw.Signal())
	m.Ease(q.Head, designed.X, pitch.Signal())
	m.Ease(q.Neck, designed.Y, turn.Signal())
	m.Ease(q.Neck, designed.X, neck.Signal())
}

// graze is a quadruped that stands, shifts its weight and looks about.
func (m *maker) graze() {
	q := m.beast()
	k := m.Size
	for side := range 2 {
		out := 1 - 2*float64(side)
		for _, front := range []bool{true, false} {
			z := -30 + m.seed.Between(-3, 3)
			if front {
				z = 18 + m.seed.Between(-3, 3)
			}
			at := r3.Scale(k, r3.Vec{X: 8 * out, Y: 4, Z: z})
			q.Plant(m.Shot, front, side, q.Root, designed.Place3(at, nil, nil, nil), designed.Turn3(nil, designed.Still(out*5), nil))
		}
	}
	x, z := designed.NewLine(0), designed.NewLine(0)
	for _, b := range m.beats() {
		x.To(b.at+0.1, b.dur*1.4, m.seed.Between(-3, 3), designed.Accent{})
		z.To(b.at+0.2, b.dur*1.2, m.seed.Between(-2.5, 2.5), designed.Accent{})
	}
	m.Shift(q.Hips, designed.X, designed.Add(designed.Times(k, x.Signal()), m.drift(0.4*k)))
	m.Shift(q.Hips, designed.Y, designed.Add(designed.Still(-4*k), m.drift(0.5*k)))
	m.Shift(q.Hips, designed.Z, designed.Add(designed.Times(k, z.Signal()), m.drift(0.4*k)))
	m.look(q, 35)
}

// trot is a quadruped that walks: hind foot, fore foot, then the other side.
func (m *maker) trot() {
	q := m.beast()
	k := m.Size
	period := m.seed.Between(0.8, 1.05)
	speed := k * m.seed.Between(34, 42) / period
	phase := m.seed.Float()
	for side := range 2 {
		out := 1 - 2*float64(side)
		for i, front := range []bool{false, true} {
			g := &gait{period: period, stance: 0.64, phase: phase + 0.5*float64(side) - 0.25*float64(i), speed: speed,
				side: out * 8 * k, lift: k * m.seed.Between(3.5, 5), ankle: r3.Vec{Y: 4 * k}, ball: r3.Vec{Y: -3 * k, Z: 6 * k}, rise: m.seed.Between(14, 22)}
			start := -30.0
			if front {
				start = 18
			}
			goal := func(t float64) r3.Vec { return r3.Add(g.goal(t), r3.Vec{Z: start * k}) }
			q.Plant(m.Shot, front, side, q.Root, goal, g.facing)
		}
	}
	wave := func(size, turns, late float64) designed.Signal {
		return designed.Wave(m.seed.Spread(size, 0.2), period/turns, (phase-late)*turns)
	}
	m.Shift(q.Hips, designed.Z, designed.Add(func(t float64) float64 { return speed * t }, wave(0.5*k, 2, 0.1), m.drift(0.8*k)))
	m.Shift(q.Hips, designed.Y, designed.Add(designed.Still(-5.5*k), wave(0.7*k, 2, 0.2)))
	m.Shift(q.Hips, designed.X, wave(1*k, 1, 0.05))
	m.Ease(q.Hips, designed.Y, wave(3, 1, 0.7))
	m.Ease(q.Spine, designed.Y, wave(4, 1, 0.3))
	m.Ease(q.Chest, designed.Y, wave(3, 1, 0.42))
	m.Ease(q.Neck, designed.X, designed.Add(designed.Still(8), wave(3, 2, 0.3)))
	m.Ease(q.Head, designed.X, wave(2.5, 2, 0.42))
}
