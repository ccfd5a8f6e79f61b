package natural

import "curvelint/cmd/lab/designed"

// talk is a jointed face that speaks, and shapes one of shape weights.
func (m *maker) talk() { m.speak(false) }

func (m *maker) shapes() { m.speak(true) }

func (m *maker) speak(shaped bool) {
	f := designed.NewFace(m.Shot, -1, "Herald", m.Names, m.Size, shaped)
	jaw := designed.NewLine(2)
	corner := designed.NewLine(2)
	for t := m.seed.Between(0.2, 0.6); t < m.Seconds-0.5; {
		for n := 3 + m.seed.Int(7); n > 0 && t < m.Seconds-0.4; n-- {
			d := m.seed.Between(0.11, 0.2)
			jaw.To(t, d, m.seed.Between(4, 12), designed.Accent{})
			jaw.To(t+d, d*m.seed.Between(0.8, 1.2), m.seed.Between(0.5, 3.5), designed.Accent{})
			if t > corner.End() {
				corner.To(t, m.seed.Between(0.22, 0.4), m.seed.Between(0.5, 7), designed.Accent{})
			}
			t = jaw.End() + m.seed.Between(0, 0.06)
		}
		t += m.seed.Between(0.5, 1.2)
	}
	f.Set(m.Shot, f.Jaw, 14, designed.Add(jaw.Signal(), m.drift(0.3)))
	brow, lid, gaze := designed.NewLine(6), designed.NewLine(4), designed.NewLine(0)
	yaw, pitch, roll := designed.NewLine(0), designed.NewLine(0), designed.NewLine(0)
	for _, b := range m.beats() {
		gaze.To(b.at, m.seed.Between(0.08, 0.15), m.seed.Between(-14, 14), designed.Accent{})
		yaw.To(b.at+m.seed.Between(0.04, 0.1), b.dur, m.seed.Between(-14, 14), m.accent())
		pitch.To(b.at+m.seed.Between(0.08, 0.16), b.dur*0.8, m.seed.Between(-7, 7), m.accent())
		roll.To(b.at+m.seed.Between(0.12, 0.25), b.dur, m.seed.Between(-5, 5), m.accent())
		at, dur := b.at-m.seed.Between(0, 0.2), m.seed.Between(0.14, 0.3)
		brow.To(at, dur, m.seed.Between(1, 11), designed.Accent{})
		lid.To(at+m.seed.Between(0.06, 0.12), dur*m.seed.Between(0.8, 1.2), m.seed.Between(1.5, 7), designed.Accent{})
	}
	blinks := m.blinks()
	quick := m.drift(0.3)
	for side := range 2 {
		k := m.seed.Between(0.85, 1)
		f.Set(m.Shot, f.Brow[side], 14, designed.Times(k, designed.Add(brow.Signal(), m.drift(0.4))))
		f.Set(m.Shot, f.Lid[side], 40, designed.Add(lid.Signal(), designed.Blink(26, blinks...), quick))
		f.Set(m.Shot, f.Corner[side], 10, designed.Times(k, designed.Add(corner.Signal(), m.drift(0.25))))
		m.Ease(f.Eye[side], designed.Y, designed.Add(gaze.Signal(), quick))
	}
	m.Ease(f.Head, designed.Y, yaw.Signal())
	m.Ease(f.Head, designed.X, designed.Add(pitch.Signal(), designed.Late(0.05, designed.Times(-0.12, jaw.Signal()))))
	m.Ease(f.Head, designed.Z, roll.Signal())
	m.Ease(f.Neck, designed.Y, designed.Late(0.07, designed.Times(0.3, yaw.Signal())))
	m.alive(f.Head, 0.8)
	m.alive(f.Neck, 0.8)
}
