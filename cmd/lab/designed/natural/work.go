package natural

import (
	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/cmd/lab/designed"
)

// prop is a thing that hands move: a part and a line for each way it goes.
type prop struct {
	part       int
	x, y, z    *designed.Line
	yaw, pitch *designed.Line
}

// prop adds a prop at a place, in centimetres of a body of size 1.
func (m *maker) prop(name string, at r3.Vec) *prop {
	p := &prop{x: designed.NewLine(0), y: designed.NewLine(0), z: designed.NewLine(0), yaw: designed.NewLine(0), pitch: designed.NewLine(0)}
	k := m.Size
	p.part = m.Add(-1, designed.Part{Name: name, Offset: r3.Scale(k, at), Move: [3]designed.Signal{
		designed.Add(later(p.x, k), m.drift(0.4*k)), designed.Add(later(p.y, k), m.drift(0.5*k)), designed.Add(later(p.z, k), m.drift(0.4*k))},
		Turn: [3]designed.Signal{later(p.pitch, 1), designed.Add(later(p.yaw, 1), m.drift(0.5)), m.drift(0.5)}})
	return p
}

// carryTo moves the prop in a beat, up and over rather than straight.
func (p *prop) carryTo(m *maker, b beat, x, y, z float64) {
	dur := m.seed.Between(0.55, 0.95)
	p.x.To(b.at+0.05, dur, x, designed.Accent{})
	p.z.To(b.at+0.02, dur*0.9, z, designed.Accent{})
	p.y.To(b.at, dur*0.45, max(y, p.y.Value())+m.seed.Between(2, 5), designed.Accent{})
	p.y.To(b.at+dur*0.45, dur*0.6, y, designed.Accent{})
	p.yaw.To(b.at+0.08, dur*1.05, x*m.seed.Between(0.5, 0.9), designed.Accent{})
	p.pitch.To(b.at+0.1, dur, m.seed.Between(-6, 6), designed.Accent{})
}

// work is a biped that moves a box about with both hands.
func (m *maker) work() {
	box := m.prop("Box", r3.Vec{Y: 108, Z: 32})
	a := m.actor(-1, "Mate")
	a.stand(m.seed.Between(16, 22), m.seed.Between(-6, 6))
	a.hold(box.part, 15, 0)
	follow := a.follow()
	face := a.face()
	for _, b := range m.beats() {
		x, y, z := m.seed.Between(-13, 13), m.seed.Between(-7, 12), m.seed.Between(-4, 3)
		box.carryTo(m, b, x, y, z)
		follow(b, x, y)
		face(b)
	}
	a.done()
	a.living()
}

// hold puts both hands on a part, apart by twice half.
func (a *actor) hold(part int, half, z float64) {
	k := a.Size
	for side := range 2 {
		out := 1 - 2*float64(side)
		at := r3.Scale(k, r3.Vec{X: out * half, Y: a.seed.Between(-1, 2), Z: z})
		turn := designed.Turn3(designed.Still(-a.seed.Between(68, 80)), designed.Still(-out*a.seed.Between(6, 14)), nil)
		a.HoldHand(a.Shot, side, part, designed.Place3(at, nil, nil, nil), turn)
	}
}

// follow lets the body go along with what the hands do: the head first, the hips
// under the load, the chest last.
func (a *actor) follow() func(b beat, x, y float64) {
	head, headX := a.line(a.Head, designed.Y, false, 0), a.line(a.Head, designed.X, false, 12)
	chest, lean := a.line(a.Chest, designed.Y, false, 0), a.line(a.Chest, designed.X, false, 4)
	spine := a.line(a.Spine, designed.X, false, 4)
	hips, drop := a.line(a.Hips, designed.X, true, 0), a.line(a.Hips, designed.Y, true, 0)
	back := a.line(a.Hips, designed.Z, true, 0)
	return func(b beat, x, y float64) {
		head.To(b.at-0.06, a.seed.Between(0.35, 0.5), x*1.3, a.accent())
		headX.To(b.at-0.02, a.seed.Between(0.35, 0.5), 12-y*0.6, a.accent())
		hips.To(b.at+0.06, a.seed.Between(0.5, 0.8), x*0.4, designed.Accent{})
		drop.To(b.at+0.02, a.seed.Between(0.5, 0.8), y*0.12-1, designed.Accent{})
		back.To(b.at+0.1, a.seed.Between(0.5, 0.8), a.seed.Between(-3, 1), designed.Accent{})
		spine.To(b.at+0.1, a.seed.Between(0.5, 0.8), 4-y*0.25, a.accent())
		chest.To(b.at+0.14, a.seed.Between(0.5, 0.8), x*0.6, a.accent())
		lean.To(b.at+0.18, a.seed.Between(0.5, 0.8), 5-y*0.4, a.accent())
	}
}

// carry is two bipeds face to face with a beam between them.
func (m *maker) carry() {
	k := m.Size
	const apart, grip = 132, 36.0
	beam := m.prop("Beam", r3.Vec{Y: 106, Z: apart / 2})
	near := m.Add(beam.part, designed.Part{Name: "near_end", Offset: r3.Vec{Z: -k * (apart/2 - grip)}})
	far := m.Add(beam.part, designed.Part{Name: "far_end", Offset: r3.Vec{Z: k * (apart/2 - grip)}, Turn: [3]designed.Signal{nil, designed.Still(180)}})
	mates := []*actor{m.actor(-1, "Mate"), m.actor(-1, "Bosun")}
	m.Parts[mates[1].Root].Offset.Z = apart * k
	m.Parts[mates[1].Root].Turn[designed.Y] = designed.Still(180)
	var follow []func(beat, float64, float64)
	var face []func(beat)
	for i, a := range mates {
		a.stand(m.seed.Between(15, 21), m.seed.Between(-7, 7))
		a.hold([]int{near, far}[i], m.seed.Between(9, 12), 0)
		follow = append(follow, a.follow())
		face = append(face, a.face())
	}
	for _, b := range m.beats() {
		x, y, z := m.seed.Between(-7, 7), m.seed.Between(-5, 8), m.seed.Between(-3, 3)
		beam.carryTo(m, b, x, y, z)
		for i, late := range []float64{0, m.seed.Between(0.06, 0.16)} {
			way := 1 - 2*float64(i)
			follow[i](beat{b.at + late, b.dur}, x*way, y)
			face[i](beat{b.at + late, b.dur})
		}
	}
	for _, a := range mates {
		a.done()
		a.living()
	}
}
