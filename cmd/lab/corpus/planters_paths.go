package corpus

import (
	"math"

	"curvelint/cmd/lab/designed"
)

// pathPlanters plant the flaws of paths.
var pathPlanters = map[string]planter{
	"flat-arc":   plantFlat,
	"pivot-arc":  plantPivot,
	"kinked-arc": plantKinked,
	"late-arc":   plantLate,
}

// plantFlat moves the end of a limb from pose to pose in a straight line, as
// interpolated poses do, or in an arc, or straight down.
func plantFlat(s *stage, flawed bool) {
	r := s.reacher(true)
	c, long, steep := bend(0, 1, 0), r.size*s.seed.Between(0.13, 0.19), false
	if !flawed {
		steep = s.seed.Chance(0.25) // what falls, falls straight
		if !steep {
			c = bend(0, 1, s.seed.Between(45, 90))
		}
	}
	from, dur := s.seed.Between(1, 3.5), s.seed.Between(0.35, 0.8)
	s.trace(r, c, long, steep, designed.Stroke(minJerk, from, from+dur, 1))
	s.live(0, 0)
	s.plant("flat-arc", from, from+dur, r.parts[0], r.parts[1:]...)
}

// plantPivot swings a whole limb or tail from its first joint, or lets the
// joints after it lag and bend, or lets the trunk make half of the swing.
func plantPivot(s *stage, flawed bool) {
	s.anyOf([]castKind{(*stage).biped, (*stage).biped, withBird, withQuadruped, (*stage).tailAlone})
	s.live(0, 0)
	chain, axis, change := s.tail, designed.Y, s.seed.Between(60, 85)*s.seed.Sign()
	if s.limbs != nil {
		chain, axis, change = s.limbs[s.seed.Int(len(s.limbs))], designed.X, -s.seed.Between(60, 100)
		if s.Body == nil {
			axis, change = designed.Z, s.seed.Between(60, 80)*s.seed.Sign()
		}
	}
	from, dur := s.seed.Between(0.8, 3), s.seed.Between(0.45, 0.9)
	s.stiff = true
	s.plant("pivot-arc", from, from+dur, chain[0], chain[1:]...)
	switch {
	case flawed:
		s.ease(chain[0], axis, minJerk, from, dur, change)
	case s.Body != nil && s.seed.Chance(0.3):
		change = max(change, -75)
		s.ease(s.Spine, axis, minJerk, from, dur, 0.2*change)
		s.ease(s.Chest, axis, minJerk, from, dur, 0.3*change)
		s.ease(chain[0], axis, minJerk, from, dur, 0.5*change)
	default:
		s.ease(chain[0], axis, minJerk, from, dur, change)
		s.bends(chain, axis, from, dur, change)
	}
}

// bends lets the joints of a chain lag behind a swing of its first and come
// after it. An elbow cannot lag past straight: it bends.
func (s *stage) bends(chain []int, axis int, from, dur, change float64) {
	step := min(s.seed.Between(0.06, 0.1), 0.35/float64(len(chain)))
	for i, p := range chain[1:] {
		late, drag := step*float64(i+1), -0.35*s.seed.Between(0.8, 1.2)/float64(i+1)
		if s.Body != nil && i == 0 {
			drag = 0.5
		}
		s.Ease(p, axis, designed.Swell(from+late, from+late+dur, drag*change))
		s.ease(p, axis, minJerk, from+late, dur, 0.3*change)
	}
}

// plantKinked lets a limb's end turn a corner at full speed, or rounds the
// corner, stops at it, or turns back.
func plantKinked(s *stage, flawed bool) {
	r := s.reacher(false)
	long := r.size * s.seed.Between(0.24, 0.3)
	at, angle := s.seed.Between(0.42, 0.58), s.seed.Between(70, 115)
	from, dur := s.seed.Between(1, 3.5), s.seed.Between(0.5, 0.7)
	c, progress := bend(at, at, angle), designed.Stroke(minJerk, from, from+dur, 1)
	mid := from + 0.5*dur
	if !flawed {
		switch s.seed.Int(3) {
		case 0:
			c = bend(at-0.3, at+0.3, angle)
		case 1: // two moves with a stop between
			c = heading(func(u float64) float64 { return 70*u + math.Copysign(angle/2, u-at) })
			progress = designed.Add(designed.Stroke(minJerk, from, mid, at), designed.Stroke(minJerk, mid+0.05, mid+0.05+0.5*dur, 1-at))
		default: // there and back
			c = bend(0, 1, 90)
			progress = designed.Swell(from, from+dur*1.3, 0.6)
		}
	}
	s.trace(r, c, long, false, progress)
	s.live(0, 0)
	s.plant("kinked-arc", mid-0.1, mid+0.1, r.parts[0], r.parts[1:]...)
}

// plantLate leaves all the curve of an arc to its last quarter, or its first, or
// spreads it.
func plantLate(s *stage, flawed bool) {
	r := s.reacher(false)
	angle := s.seed.Between(75, 115)
	c := bend(0.77, 1, angle)
	if s.seed.Chance(0.35) {
		c = bend(0, 0.23, angle)
	}
	if !flawed {
		c = bend(0, 1, angle)
	}
	from, dur := s.seed.Between(1, 3.5), s.seed.Between(0.5, 0.9)
	s.trace(r, c, r.size*s.seed.Between(0.16, 0.22), false, designed.Stroke(minJerk, from, from+dur, 1))
	s.live(0, 0)
	s.plant("late-arc", from, from+dur, r.parts[0], r.parts[1:]...)
}
