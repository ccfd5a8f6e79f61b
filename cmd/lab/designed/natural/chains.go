package natural

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/cmd/lab/designed"
)

// pendulum is a lantern on a line of four links that swings out, is pushed by a
// gust and swings out again, every link a little after the one above.
func (m *maker) pendulum() {
	k := m.Size
	c := designed.NewChain(m.Shot, -1, "Lantern", "line", m.Names, 4, 220*k, r3.Vec{Y: -24 * k})
	period, decay := m.seed.Between(1.5, 2.2), m.seed.Between(2.5, 5)
	gust := m.Seconds * m.seed.Between(0.45, 0.6)
	for i, link := range c.Links {
		late := period * 0.035 * float64(i)
		size := []float64{17, 4, 4, 6}[i]
		m.Ease(link, designed.Z, swing(m.seed.Spread(size, 0.15), period, decay, late, 0))
		m.Ease(link, designed.Z, swing(m.seed.Spread(size*0.6, 0.15), period, decay, late, gust))
		m.Ease(link, designed.X, swing(m.seed.Spread(size*0.3, 0.2), period*1.01, decay, late+0.2, 0))
		m.alive(link, 0.25)
	}
}

// swing is a damped swing that begins at time from, out of rest when that is not
// the beginning.
func swing(size, period, decay, late, from float64) designed.Signal {
	return func(t float64) float64 {
		u := t - from
		if from > 0 && u <= 0 {
			return 0
		}
		grow := 1.0
		if from > 0 {
			grow = smooth(u, 0, period*0.6)
		}
		return size * grow * math.Exp(-u/decay) * math.Cos(2*math.Pi*(u-late)/period)
	}
}

// tailChain is a tail that waves by itself: a wave that travels to the tip and
// grows on the way, stronger and weaker by turns.
func (m *maker) tailChain() {
	k := m.Size
	c := designed.NewChain(m.Shot, -1, "Ribbon", "tail", m.Names, 6, 90*k, r3.Vec{Z: -11 * k})
	m.wag(c.Links, m.seed.Between(0.8, 1.5), 6)
}

// wag waves a chain.
func (m *maker) wag(links []int, period, size float64) {
	mood := designed.Add(designed.Still(1), designed.Drift(m.fork(), 0.5))
	phase, lag := m.seed.Float(), m.seed.Between(0.07, 0.11)
	for i, link := range links {
		wave := designed.Wave(size*(1+0.35*float64(i)), period, phase-lag*float64(i))
		late := lag * period * float64(i)
		m.Ease(link, designed.Y, func(t float64) float64 { return mood(t-late) * wave(t) })
		m.Ease(link, designed.X, designed.Late(late, designed.Drift(designed.Seed(7), 3)))
		m.alive(link, 0.8)
	}
}

// flight is a bird that beats its wings, banks and rides the gusts.
func (m *maker) flight() {
	k := m.Size
	b := designed.NewBird(m.Shot, -1, "Tern", m.Names, k)
	speed := k * m.seed.Between(60, 140)
	root := &m.Parts[b.Root]
	root.Offset = r3.Vec{Y: 300 * k}
	bank := m.drift(12)
	along := designed.Add(func(t float64) float64 { return speed * t }, designed.Wave(speed*0.3, m.seed.Between(2.5, 3.5), m.seed.Float()))
	root.Move = [3]designed.Signal{designed.Times(-2*k, designed.Late(0.3, bank)), designed.Add(m.drift(20*k), designed.Wave(9*k, m.seed.Between(2, 3), 0)), along}
	root.Turn = [3]designed.Signal{m.drift(5), designed.Times(-0.6, designed.Late(0.2, bank)), bank}
	b.Fly(m.Shot, m.seed.Between(0.42, 0.62), m.fork())
	m.alive(b.Head, 2)
}
