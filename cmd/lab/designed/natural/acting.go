package natural

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/cmd/lab/designed"
)

// A beat of acting: when it starts and how long its main strokes take.
type beat struct{ at, dur float64 }

// beats fills the shot with beats of 0.3 to 0.9 seconds and holds between them.
func (m *maker) beats() []beat {
	var out []beat
	for t := m.seed.Between(0.2, 0.8); t < m.Seconds-1; {
		b := beat{t, m.seed.Between(0.3, 0.9)}
		out = append(out, b)
		t += b.dur + m.seed.Between(0.45, 1.6)
	}
	return out
}

// actor is a biped with a line for each thing it moves.
type actor struct {
	*maker
	*designed.Body
	lines []*namedLine
}

// namedLine drives one component of a part's turn or move.
type namedLine struct {
	part, axis int
	move       bool
	scale      float64
	*designed.Line
}

func (m *maker) actor(parent int, root string) *actor {
	return &actor{maker: m, Body: designed.NewBody(m.Shot, parent, root, m.Names, m.Size)}
}

// line adds a line for a component, from a value.
func (a *actor) line(part, axis int, move bool, v float64) *namedLine {
	l := &namedLine{part, axis, move, 1, designed.NewLine(v)}
	if move {
		l.scale = a.Size
	}
	a.lines = append(a.lines, l)
	return l
}

// done puts all lines into the shot.
func (a *actor) done() {
	for _, l := range a.lines {
		s := designed.Times(l.scale, l.Signal())
		if l.move {
			a.Shift(l.part, l.axis, s)
		} else {
			a.Ease(l.part, l.axis, s)
		}
	}
}

// acting is a biped that stands and acts.
func (m *maker) acting() {
	a := m.actor(-1, "Mate")
	a.stand(m.seed.Between(14, 22), m.seed.Between(-8, 8))
	trunk, arms, face := a.trunk(), a.arms(), a.face()
	for _, b := range m.beats() {
		trunk(b)
		arms(b)
		face(b)
	}
	a.done()
	a.living()
}

// stand plants both feet, apart by twice half and one before the other.
func (a *actor) stand(half, before float64) {
	k := a.Size
	for side := range 2 {
		out := 1 - 2*float64(side)
		at := r3.Scale(k, r3.Vec{X: half * out, Y: 9, Z: before * out})
		turn := designed.Still(out * a.seed.Between(8, 18))
		a.PlantFoot(a.Shot, side, a.Root, designed.Place3(at, nil, nil, nil), designed.Turn3(nil, turn, nil))
	}
	a.Shift(a.Hips, designed.Y, designed.Still(-4.5*k))
}

// trunk turns hips, spine, chest, neck and head: the head first, then the chest,
// the hips last, every part with a length of its own.
func (a *actor) trunk() func(beat) {
	type part struct {
		*namedLine
		size, late float64
	}
	parts := []part{
		{a.line(a.Head, designed.Y, false, 0), 26, 0.03}, {a.line(a.Head, designed.X, false, 0), 9, 0.05},
		{a.line(a.Head, designed.Z, false, 0), 6, 0.09}, {a.line(a.Neck, designed.Y, false, 0), 9, 0.07},
		{a.line(a.Neck, designed.X, false, 3), 5, 0.10},
		{a.line(a.Chest, designed.Y, false, 0), 11, 0.12}, {a.line(a.Chest, designed.X, false, 2), 7, 0.15},
		{a.line(a.Spine, designed.X, false, 2), 6, 0.19}, {a.line(a.Spine, designed.Z, false, 0), 4, 0.22},
		{a.line(a.Hips, designed.X, true, 0), 5, 0.25}, {a.line(a.Hips, designed.Z, true, 0), 4, 0.23},
		{a.line(a.Hips, designed.Y, true, 0), 1.6, 0.27}, {a.line(a.Hips, designed.Y, false, 0), 6, 0.21},
	}
	return func(b beat) {
		for _, p := range parts {
			if a.seed.Chance(0.75) {
				v := a.seed.Between(-p.size, p.size)
				p.To(b.at+a.seed.Spread(p.late, 0.35), a.seed.Spread(b.dur, 0.25), v, a.accent())
			}
		}
	}
}

// armPoses are gestures: the upper arm's turn forward, about itself and out, the
// elbow's bend and the hand's.
var armPoses = [][5]float64{
	{4, 0, 8, -12, 0}, {-14, 0, 10, -35, -4}, {-38, 12, 14, -78, -12}, {-62, 20, 22, -58, 14},
	{-28, -14, 30, -96, 8}, {12, 0, 16, -20, 4}, {-48, 26, 8, -104, -20},
}

// arms move through gestures, the forearm after the upper arm and the hand after
// both. One arm leads and the other may rest.
func (a *actor) arms() func(beat) {
	var lines [2][5]*namedLine
	for side := range 2 {
		out := 1 - 2*float64(side)
		rest := armPoses[0]
		lines[side] = [5]*namedLine{
			a.line(a.Upper[side], designed.X, false, rest[0]), a.line(a.Upper[side], designed.Y, false, rest[1]*out),
			a.line(a.Upper[side], designed.Z, false, rest[2]*out), a.line(a.Fore[side], designed.X, false, rest[3]),
			a.line(a.Hand[side], designed.X, false, rest[4]),
		}
	}
	late := [5]float64{0, 0.05, 0.03, 0.07, 0.14}
	return func(b beat) {
		for side := range 2 {
			if !a.seed.Chance(0.6) {
				continue
			}
			out := 1 - 2*float64(side)
			pose := armPoses[a.seed.Int(len(armPoses))]
			start, dur := b.at+a.seed.Between(0.04, 0.3), a.seed.Spread(b.dur, 0.2)
			for k, l := range lines[side] {
				v := a.seed.Spread(pose[k], 0.2)
				if k == 1 || k == 2 {
					v *= out
				}
				l.To(start+a.seed.Spread(late[k], 0.3), a.seed.Spread(dur, 0.12), v, a.accent())
			}
		}
	}
}

// face moves eyes, brows, lids and jaw: eyes first, lids a little after the
// brows.
func (a *actor) face() func(beat) {
	gaze, pitch := designed.NewLine(0), designed.NewLine(0)
	brow, lid, jaw := designed.NewLine(0), designed.NewLine(10), designed.NewLine(2)
	for side := range 2 {
		k := a.seed.Spread(1, 0.15)
		a.Ease(a.Eye[side], designed.Y, later(gaze, 1))
		a.Ease(a.Eye[side], designed.X, later(pitch, 1))
		a.Ease(a.Brow[side], designed.X, later(brow, k))
		a.Ease(a.Lid[side], designed.X, later(lid, 1))
	}
	a.Ease(a.Jaw, designed.X, later(jaw, 1))
	return func(b beat) {
		gaze.To(b.at, a.seed.Between(0.08, 0.16), a.seed.Between(-18, 18), designed.Accent{})
		pitch.To(b.at, a.seed.Between(0.08, 0.16), a.seed.Between(-8, 8), designed.Accent{})
		if a.seed.Chance(0.6) {
			at, dur := b.at+a.seed.Between(-0.15, 0.1), a.seed.Between(0.13, 0.3)
			brow.To(at, dur, a.seed.Between(-12, 10), designed.Accent{})
			lid.To(at+a.seed.Between(0.06, 0.12), dur*a.seed.Between(0.8, 1.2), a.seed.Between(4, 16), designed.Accent{})
		}
		if a.seed.Chance(0.4) {
			jaw.To(b.at+a.seed.Between(0.1, 0.3), a.seed.Between(0.15, 0.35), a.seed.Between(0, 9), designed.Accent{})
		}
	}
}

// later is a line's signal, which may still grow.
func later(l *designed.Line, k float64) designed.Signal {
	return func(t float64) float64 { return k * l.Signal()(t) }
}

// living is what no body does without: breath, drift, blinks.
func (a *actor) living() {
	period := a.seed.Between(2.6, 3.8)
	phase := a.seed.Float()
	a.Ease(a.Spine, designed.X, designed.Breath(-0.4, period, phase))
	a.Ease(a.Chest, designed.X, designed.Breath(-0.9, period, phase-0.05))
	a.Ease(a.Head, designed.X, designed.Breath(0.5, period, phase-0.16))
	for _, p := range []int{a.Spine, a.Chest, a.Neck, a.Head} {
		a.alive(p, 0.9)
	}
	for axis := range 3 {
		a.Shift(a.Hips, axis, a.drift(0.7*a.Size))
	}
	blinks := a.blinks()
	quick := a.drift(0.6)
	for side := range 2 {
		a.Ease(a.Clav[side], designed.Z, designed.Breath(0.8*(1-2*float64(side)), period, phase-0.1))
		a.alive(a.Hand[side], 1.4)
		a.alive(a.Upper[side], 0.8)
		a.Ease(a.Lid[side], designed.X, designed.Add(designed.Blink(28, blinks...), quick))
		a.Ease(a.Brow[side], designed.X, a.drift(0.6))
		a.Ease(a.Eye[side], designed.X, quick)
	}
	a.Ease(a.Jaw, designed.X, a.drift(0.4))
}

// nod is a biped that says yes and no with its head and does little else.
func (m *maker) nod() {
	a := m.actor(-1, "Mate")
	a.stand(16, m.seed.Between(-6, 6))
	nod, shake, chest := designed.NewLine(0), designed.NewLine(0), designed.NewLine(0)
	for t := m.seed.Between(0.3, 1); t < m.Seconds-1.6; {
		l, size := nod, m.seed.Between(9, 15)
		if m.seed.Chance(0.4) {
			l, size = shake, m.seed.Between(14, 24)
		}
		half := m.seed.Between(0.2, 0.3)
		chest.To(t+0.07, half*3, size*0.12*m.seed.Sign(), designed.Accent{})
		n := 3 + m.seed.Int(3)
		for i := range n {
			way := float64(1 - 2*(i%2))
			l.To(t, half, way*size*math.Pow(0.72, float64(i)), designed.Accent{})
			t += half
		}
		l.To(t, half*1.3, 0, designed.Accent{})
		t += half*1.3 + m.seed.Between(0.5, 1.4)
	}
	a.Ease(a.Head, designed.X, nod.Signal())
	a.Ease(a.Head, designed.Y, shake.Signal())
	a.Ease(a.Neck, designed.X, designed.Late(0.05, designed.Times(0.3, nod.Signal())))
	a.Ease(a.Chest, designed.X, chest.Signal())
	face := a.face()
	for _, b := range m.beats() {
		face(b)
	}
	for side := range 2 {
		out := 1 - 2*float64(side)
		a.Ease(a.Upper[side], designed.Z, designed.Still(m.seed.Between(6, 12)*out))
		a.Ease(a.Fore[side], designed.X, designed.Still(-m.seed.Between(8, 30)))
	}
	a.living()
}
