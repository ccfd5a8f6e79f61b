package natural

import (
	"math"

	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/cmd/lab/designed"
)

// gait is a foot's way through a walk along +Z.
type gait struct {
	period, stance float64 // seconds of a full cycle; share of it on the ground
	phase          float64 // cycles
	speed          float64 // length a second
	side, lift     float64
	ankle          r3.Vec // the ankle over the ground
	ball           r3.Vec // the ball of the foot from the ankle, on the ground
	heel, rise     float64
	out            float64 // degrees the foot turns out
}

// cycle splits time into the number of the step and how far it is through the
// cycle, 0 at landing.
func (g *gait) cycle(t float64) (n, s float64) {
	c := t/g.period + g.phase
	n = math.Floor(c)
	return n, c - n
}

// ground is where the foot of step n stands.
func (g *gait) ground(n float64) float64 {
	return g.speed * g.period * (n - g.phase + g.stance/2)
}

// smooth is minimum jerk over a share of the cycle.
func smooth(s, from, to float64) float64 {
	if s <= from {
		return 0
	}
	if s >= to {
		return 1
	}
	return designed.MinimumJerk((s - from) / (to - from))
}

// pitch is the foot's angle: toes up at landing, heel up before lift-off.
func (g *gait) pitch(s float64) float64 {
	down := -g.heel * (1 - smooth(s, 0, 0.14))
	up := g.rise * smooth(s, g.stance-0.24, g.stance+0.06)
	back := -(g.rise + g.heel) * smooth(s, g.stance+0.02, 0.96)
	return down + up + back
}

// at is the ankle at time t and the foot's pitch: on the ground the foot turns
// about its heel and then about its ball, in the air it goes to the next step.
func (g *gait) at(t float64) (r3.Vec, float64) {
	n, s := g.cycle(t)
	air := smooth(s, g.stance-0.03, 1.0)
	p := g.pitch(s)
	base := r3.Vec{X: g.side, Z: g.ground(n)*(1-air) + g.ground(n+1)*air}
	heel := r3.Vec{Y: -g.ankle.Y, Z: -0.45 * g.ankle.Y}
	pivot := r3.Add(g.ball, r3.Scale(smooth(s, g.stance+0.05, 0.95), r3.Sub(heel, g.ball)))
	if s < 0.3 {
		pivot = heel // the foot is flat when this changes
	}
	swing := math.Sin(math.Pi * smooth(s, g.stance-0.06, 1))
	arm := designed.Rotate(designed.About(designed.X, p), r3.Scale(-1, pivot))
	roll := designed.Rotate(designed.About(designed.Y, g.out), r3.Add(pivot, arm))
	at := r3.Add(base, r3.Add(g.ankle, roll))
	at.Y += g.lift * swing * swing
	return at, p
}

// toe is the toe's own pitch: flat on the ground while the heel is up.
func (g *gait) toe(t float64) float64 {
	_, s := g.cycle(t)
	up := g.rise * smooth(s, g.stance-0.24, g.stance+0.06)
	return -up * (1 - smooth(s, g.stance, g.stance+0.2))
}

func (g *gait) goal(t float64) r3.Vec {
	at, _ := g.at(t)
	return at
}

func (g *gait) facing(t float64) quat.Number {
	_, p := g.at(t)
	return quat.Mul(designed.About(designed.Y, g.out), designed.About(designed.X, p))
}

// walk is a biped that walks with a swing of its own.
func (m *maker) walk() {
	a := m.actor(-1, "Mate")
	k := m.Size
	period := m.seed.Between(0.98, 1.25)
	speed := k * m.seed.Between(88, 118) / period
	phase := m.seed.Float()
	for side := range 2 {
		out := 1 - 2*float64(side)
		g := &gait{period: period, stance: 0.6, phase: phase + 0.5*float64(side), speed: speed,
			side: out * k * m.seed.Between(7, 9), lift: k * m.seed.Between(5, 8), ankle: r3.Vec{Y: 9 * k},
			ball: r3.Vec{Y: -7 * k, Z: 14 * k}, heel: m.seed.Between(10, 16), rise: m.seed.Between(26, 36), out: out * m.seed.Between(4, 9)}
		a.PlantFoot(m.Shot, side, a.Root, g.goal, g.facing)
		a.Ease(a.Toe[side], designed.X, g.toe)
		a.swingArm(side, period, phase+0.5*float64(side))
	}
	wave := func(size, turns, late float64) designed.Signal {
		return designed.Wave(m.seed.Spread(size, 0.2), period/turns, (phase-late)*turns)
	}
	slow := designed.Add(func(t float64) float64 { return speed * t }, m.drift(1.5*k))
	a.Shift(a.Hips, designed.Z, designed.Add(slow, wave(1.2*k, 2, 0.05)))
	a.Shift(a.Hips, designed.Y, designed.Add(designed.Still(-7*k), wave(2.1*k, 2, 0.17)))
	a.Shift(a.Hips, designed.X, wave(2.4*k, 1, 0.05))
	a.Ease(a.Hips, designed.Y, wave(5, 1, 0.72))
	a.Ease(a.Hips, designed.Z, wave(3, 1, 0.03))
	a.Ease(a.Spine, designed.Y, wave(5, 1, 0.26))
	a.Ease(a.Spine, designed.X, designed.Add(designed.Still(3), wave(1, 2, 0.1)))
	a.Ease(a.Chest, designed.Y, wave(6, 1, 0.31))
	a.Ease(a.Chest, designed.Z, wave(2, 1, 0.6))
	a.Ease(a.Head, designed.Y, wave(6, 1, 0.80))
	a.Ease(a.Head, designed.X, designed.Add(designed.Still(-3), wave(1.2, 2, 0.3)))
	face := a.face()
	for _, b := range m.beats() {
		face(b)
	}
	a.living()
}

// swingArm swings an arm against its leg, each joint later than the one above.
func (a *actor) swingArm(side int, period, phase float64) {
	out := 1 - 2*float64(side)
	wave := func(size, late float64) designed.Signal {
		return designed.Wave(a.seed.Spread(size, 0.15), period, phase-late)
	}
	a.Ease(a.Upper[side], designed.X, designed.Add(designed.Still(4), wave(21, 0.02)))
	a.Ease(a.Upper[side], designed.Z, designed.Still(out*a.seed.Between(5, 9)))
	a.Ease(a.Fore[side], designed.X, designed.Add(designed.Still(-24), wave(13, 0.09)))
	a.Ease(a.Hand[side], designed.X, wave(7, 0.17))
}
