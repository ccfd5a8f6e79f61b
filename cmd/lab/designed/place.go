package designed

import (
	"slices"

	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Placement puts a whole shot somewhere else in the world: every length is
// multiplied by Scale, then the world is turned about its origin, then moved.
type Placement struct {
	Scale  float64
	Turn   quat.Number
	Offset r3.Vec
}

var asDesigned = Placement{Scale: 1, Turn: quat.Number{Real: 1}}

// slowed is how many times slower than designed the shot goes.
func (s *Shot) slowed() float64 {
	if s.pace == 0 {
		return 1
	}
	return s.pace
}

// Slower returns the shot with everything k times slower (faster below 1).
func (s *Shot) Slower(k float64) *Shot {
	c := *s
	c.pace, c.Length = s.slowed()*k, s.Length*k
	c.Parts = slices.Clone(s.Parts)
	for i := range c.Parts {
		for axis, knots := range c.Parts[i].Knots {
			var slow []float64
			for _, t := range knots {
				slow = append(slow, t*k)
			}
			c.Parts[i].Knots[axis] = slow
		}
	}
	return &c
}

// Stronger returns the shot with the parts' own signals and the jumps k times as
// large (weaker below 1). Limbs that are held reach for the same goals.
func (s *Shot) Stronger(k float64) *Shot {
	c := *s
	c.Parts = slices.Clone(s.Parts)
	for i := range c.Parts {
		p := &c.Parts[i]
		for axis := range 3 {
			p.Turn[axis], p.Move[axis] = times(k, p.Turn[axis]), times(k, p.Move[axis])
		}
		p.Value = times(k, p.Value)
	}
	c.Jumps = slices.Clone(s.Jumps)
	for i := range c.Jumps {
		c.Jumps[i].Size *= k
	}
	return &c
}

// times is Times, of no signal none.
func times(k float64, s Signal) Signal {
	if s == nil {
		return nil
	}
	return Times(k, s)
}

// Cut returns the shot from one time to another, in seconds. Its frames are
// numbered anew from First, and its knots begin at the cut.
func (s *Shot) Cut(from, to float64) *Shot {
	c := *s
	c.Start, c.Length = s.Start+from, to-from
	c.Parts = slices.Clone(s.Parts)
	for i := range c.Parts {
		for axis, knots := range c.Parts[i].Knots {
			var kept []float64
			for _, k := range knots {
				if k-from >= 0 && k <= to {
					kept = append(kept, k-from)
				}
			}
			c.Parts[i].Knots[axis] = kept
		}
	}
	return &c
}

// Scaled returns the shot made k times as large, as if a unit were that much
// shorter.
func (s *Shot) Scaled(k float64) *Shot {
	return s.placed(Placement{Scale: k, Turn: quat.Number{Real: 1}})
}

// Moved returns the shot moved by d units.
func (s *Shot) Moved(d r3.Vec) *Shot {
	return s.placed(Placement{Scale: 1, Turn: quat.Number{Real: 1}, Offset: d})
}

// TurnedUp returns the shot turned by angle degrees about its up axis.
func (s *Shot) TurnedUp(angle float64) *Shot {
	return s.placed(Placement{Scale: 1, Turn: About(s.Up, angle)})
}

// InUnits returns the shot in units of the given length in metres: the same
// motion, other numbers.
func (s *Shot) InUnits(metersPerUnit float64) *Shot {
	out := s.Scaled(s.MetersPerUnit / metersPerUnit)
	out.MetersPerUnit = metersPerUnit
	return out
}

// ZUp returns the shot with Z pointing up.
func (s *Shot) ZUp() *Shot {
	if s.Up == Z {
		return s
	}
	out := s.placed(Placement{Scale: 1, Turn: About(X, 90)})
	out.Up = Z
	return out
}

// YUp returns the shot with Y pointing up.
func (s *Shot) YUp() *Shot {
	if s.Up == Y {
		return s
	}
	out := s.placed(Placement{Scale: 1, Turn: About(X, -90)})
	out.Up = Y
	return out
}

// placed returns a copy of the shot with one more placement after its own.
func (s *Shot) placed(p Placement) *Shot {
	c := *s
	c.place = Placement{
		Scale:  s.place.Scale * p.Scale,
		Turn:   quat.Mul(p.Turn, s.place.Turn),
		Offset: r3.Add(Rotate(p.Turn, r3.Scale(p.Scale, s.place.Offset)), p.Offset),
	}
	return &c
}

// apply places a take: lengths everywhere, turn and move at the roots.
func (p Placement) apply(t *Take) {
	if p == asDesigned {
		return
	}
	for i := range t.Rows {
		r := &t.Rows[i]
		root := t.Shot.Parts[i].Parent < 0
		for f := range r.Move {
			r.Move[f] = r3.Scale(p.Scale, r.Move[f])
			if root {
				r.Move[f] = r3.Add(Rotate(p.Turn, r.Move[f]), p.Offset)
				r.Turn[f] = quat.Mul(p.Turn, r.Turn[f])
			}
		}
	}
}
