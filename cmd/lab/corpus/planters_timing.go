package corpus

import (
	"curvelint/cmd/lab/designed"
)

// timingPlanters plant the flaws of timing.
var timingPlanters = map[string]planter{
	"same-frame":    plantSameFrame,
	"lost-lead":     plantLostLead,
	"twinned-pose":  plantMirrored,
	"lockstep":      plantLockstep,
	"late-follow":   plantLateFollow,
	"crowded-beat":  plantCrowded,
	"masked-change": plantMasked,
	"rushed-read":   plantRushed,
}

// move is a stroke that one part of a figure can make.
type move struct {
	part, axis int
	change     float64
}

// moves are moves of as many groups of the figure as can move, one each.
func (s *stage) moves() []move {
	var out []move
	add := func(part, axis int, lo, hi float64) {
		if part >= 0 {
			out = append(out, move{part, axis, s.seed.Between(lo, hi) * s.seed.Sign()})
		}
	}
	add(s.head, designed.Y, 16, 34)
	add(s.neck, designed.X, 7, 13)
	if s.chest >= 0 {
		add(s.chest, designed.Y, 9, 16)
	} else if s.hips < 0 && len(s.trunk) > 2 {
		add(s.trunk[0], designed.X, 8, 15)
	}
	for _, l := range s.limbs {
		out = append(out, move{l[0], s.limbAxis, -s.seed.Between(24, 45)})
	}
	if s.tail != nil {
		add(s.tail[0], designed.Y, 14, 30)
	}
	if s.ears != nil {
		add(s.ears[s.seed.Int(2)], designed.Z, 10, 20)
	}
	add(s.jaw, designed.X, 6, 10)
	return out
}

// browsAnd are the moves with both brows, which are one group and come last.
func (s *stage) withBrows(m []move) (all []move, brows int) {
	brows = len(m)
	change := -s.seed.Between(7, 10)
	for _, b := range s.brow {
		m = append(m, move{b, designed.X, change})
	}
	return m, brows
}

// parts lists the parts of moves.
func parts(m []move) []int {
	var out []int
	for _, x := range m {
		out = append(out, x.part)
	}
	return out
}

// plantSameFrame changes brows and lids, or most of a body, on the same frames, or
// lets one follow the other.
func plantSameFrame(s *stage, flawed bool) {
	if s.seed.Chance(0.5) {
		s.sameFrameBody(flawed)
		return
	}
	s.blink = false
	s.anyOf(withFace)
	s.live(0, 0)
	n := 3 + s.seed.Int(3)
	at := s.onFrame(s.seed.Between(0.5, 1))
	first, last, up := at, at, 1.0
	size := s.seed.Between(6, 10)
	for range n {
		dur := s.onFrame(s.seed.Between(0.15, 0.28))
		late := 0.0
		if !flawed {
			late = s.seed.Between(0.09, 0.14)
		}
		for side := range 2 {
			s.ease(s.brow[side], designed.X, minJerk, at, dur, -size*up)
			s.ease(s.lid[side], designed.X, minJerk, at+late, dur*(1+late), -0.8*size*up)
		}
		last = at + dur
		up = -up
		at = s.onFrame(at + dur + s.seed.Between(0.45, 0.9))
	}
	s.plant("same-frame", first, last, s.brow[0], s.brow[1], s.lid[0], s.lid[1])
}

// bodies have at least five groups that move by themselves.
var bodies = []castKind{(*stage).biped, (*stage).biped, (*stage).onDeck, withQuadruped, withBird}

// sameFrameBody starts and stops everything on the same frames in two beats, or
// lets every part begin and end at a time of its own.
func (s *stage) sameFrameBody(flawed bool) {
	s.anyOf(bodies)
	s.live(0, 0)
	m := s.moves()
	at := s.onFrame(s.seed.Between(0.7, 1.2))
	first, last := at, at
	for beat := range 2 {
		dur := s.onFrame(s.seed.Between(0.4, 0.6))
		for i, x := range m {
			from, long := at, dur
			if !flawed {
				from += 0.07 * float64((i*3+beat)%len(m))
				long *= s.seed.Between(0.8, 1.25)
			}
			s.ease(x.part, x.axis, minJerk, from, long, x.change*float64(1-2*beat))
		}
		last = at + dur
		at = s.onFrame(at + 2.2)
	}
	s.plant("same-frame", first, last, m[0].part, parts(m)...)
}

// plantLostLead lets eyes and head lead the body through three crouches or
// lunges, or the hips before them in one.
func plantLostLead(s *stage, flawed bool) {
	s.anyOf(standing)
	s.live(0, 0)
	late := s.seed.Int(3)
	at := s.seed.Between(0.5, 0.7)
	way := 1.0
	goes := s.crouches
	if s.seed.Chance(0.4) {
		goes = s.lunges()
	}
	for i := range 3 {
		dur := s.seed.Between(0.5, 0.65)
		order := [4]float64{0, 0.1, 0.22, 0.32} // eyes, head, chest, hips
		if flawed && i == late {
			order = [4]float64{0.30, 0.38, 0.2, 0}
			s.plant("lost-lead", at, at+0.45, s.hips, s.root, s.head, s.chest, s.spine)
		}
		for _, e := range s.eye {
			s.ease(e, designed.Y, minJerk, at+order[0], 0.12, 14*way)
		}
		s.ease(s.head, designed.Y, minJerk, at+order[1], dur, 24*way)
		s.ease(s.chest, designed.Y, minJerk, at+order[2], dur*1.1, 9*way)
		goes(at+order[3], dur, way)
		way = -way
		at += dur + order[3] + s.seed.Between(0.7, 0.9)
	}
	if !flawed {
		s.plant("lost-lead", 0, seconds, s.hips)
	}
}

// crouches lowers the hips, or raises them again.
func (s *stage) crouches(at, dur, way float64) {
	down := -s.crouch * s.k * way
	s.Shift(s.hips, designed.Y, designed.Stroke(minJerk, at, at+dur, down))
	s.Shift(s.hips, designed.Z, designed.Stroke(minJerk, at+0.03, at+0.9*dur, 0.4*down))
}

// lunges lets the hips go to a side or forward over feet that stand, and back.
func (s *stage) lunges() func(at, dur, way float64) {
	s.Shift(s.hips, designed.Y, designed.Still(-0.3*s.crouch*s.k))
	axis, far := designed.Z, 0.95*s.crouch*s.k
	if s.Body != nil && s.seed.Chance(0.5) {
		axis = designed.X
	}
	return func(at, dur, way float64) {
		s.Shift(s.hips, axis, designed.Stroke(minJerk, at, at+dur, far*way))
		s.Shift(s.hips, designed.Y, designed.Stroke(minJerk, at+0.03, at+0.9*dur, -0.15*far*way))
	}
}

// plantMirrored moves both arms, or the legs of one who sits, as mirror images,
// or one of them on its own.
func plantMirrored(s *stage, flawed bool) {
	if s.seed.Chance(0.4) {
		s.mirroredLegs(flawed)
		return
	}
	s.bipedAlike()
	// Both sides hang alike before they move.
	lift, bend := -s.seed.Between(30, 60), -s.seed.Between(25, 60)
	t1, t2 := s.seed.Between(0.6, 1.2), s.seed.Between(2.6, 3.4)
	for side := range 2 {
		late, k := 0.0, 1.0
		if !flawed && side == 1 {
			late, k = s.seed.Between(0.12, 0.3), s.seed.Between(0.4, 0.7)
		}
		s.arm(side, t1+late, 0.7, lift*k, bend*k)
		s.arm(side, t2+late, 0.8, -lift*k*0.6, -bend*k*0.5)
	}
	// What lives does so on the mirror plane.
	for _, p := range []int{s.Spine, s.Chest, s.Neck, s.Head} {
		s.Ease(p, designed.X, designed.Drift(s.fork(), 1))
	}
	s.Shift(s.Hips, designed.Y, designed.Drift(s.fork(), 0.6*s.k))
	s.plant("twinned-pose", t1, t2+0.8, s.Fore[0], s.Hand[0], s.Upper[0])
}

// mirroredLegs swings the legs of a biped that sits on something high, both the
// same way or one after the other.
func (s *stage) mirroredLegs(flawed bool) {
	s.biped()
	t1, t2 := s.seed.Between(0.6, 1.2), s.seed.Between(2.6, 3.4)
	kick, back := s.seed.Between(25, 45), s.seed.Between(8, 15)
	for side := range 2 {
		s.free(s.Thigh[side])
		s.Ease(s.Thigh[side], designed.X, designed.Still(-75))
		s.Ease(s.Thigh[side], designed.Z, designed.Still(6*out(side)))
		s.Ease(s.Shin[side], designed.X, designed.Still(70))
		late, k := 0.0, 1.0
		if !flawed && side == 1 {
			late, k = s.seed.Between(0.3, 0.6), s.seed.Between(0.4, 0.7)
		}
		for _, at := range []float64{t1 + late, t2 + late} {
			s.ease(s.Shin[side], designed.X, minJerk, at, 0.5, -kick*k)
			s.ease(s.Shin[side], designed.X, minJerk, at+0.5, 0.7, kick*k)
			s.Ease(s.Thigh[side], designed.X, designed.Swell(at, at+1.1, -back*k))
			s.Ease(s.Foot[side], designed.X, designed.Swell(at+0.15, at+1.3, -0.6*back*k))
		}
	}
	for _, p := range []int{s.Spine, s.Chest, s.Neck, s.Head, s.Upper[0], s.Upper[1]} {
		s.Ease(p, designed.X, designed.Drift(s.fork(), 1))
		s.Ease(p, designed.Y, designed.Drift(s.fork(), 1))
	}
	s.Shift(s.Hips, designed.Y, designed.Drift(s.fork(), 0.6*s.k))
	s.plant("twinned-pose", t1, t2+1.3, s.Shin[0], s.Foot[0], s.Thigh[0], s.Toe[0], s.ToeTip[0])
}

// plantLockstep swings a tail or a braid that drags behind, but in one stroke
// goes along as one stiff piece; or it bows a whole body.
func plantLockstep(s *stage, flawed bool) {
	if s.seed.Chance(0.3) {
		s.stiffBow(flawed)
		return
	}
	s.stiff = true
	s.anyOf(withTail)
	s.live(0, 0)
	stiff := s.seed.Int(3)
	at, way := s.seed.Between(0.6, 0.9), s.seed.Sign()
	for i := range 3 {
		dur, size := s.seed.Between(0.5, 0.7), s.seed.Between(26, 40)*way
		s.ease(s.tail[0], s.tailAxis, minJerk, at, dur, size)
		if flawed && i == stiff {
			s.plant("lockstep", at, at+dur, s.tail[1], s.tail...)
		} else {
			s.drag(at, dur, size)
		}
		way = -way
		at += dur + s.seed.Between(0.9, 1.1)
	}
	if !flawed {
		s.plant("lockstep", 0, seconds, s.tail[1])
	}
}

// stiffBow bows a biped from the lowest joint of its spine three times, chest,
// neck and head after it, but once with everything above as stiff as a plank.
func (s *stage) stiffBow(flawed bool) {
	s.biped()
	s.live(0, 0)
	stiff := s.seed.Int(3)
	at, way := s.seed.Between(0.6, 0.9), 1.0
	for i := range 3 {
		dur, size := s.seed.Between(0.55, 0.75), way*s.seed.Between(34, 42)
		s.ease(s.Spine, designed.X, minJerk, at, dur, size)
		if flawed && i == stiff {
			s.plant("lockstep", at, at+dur, s.Chest, s.Spine, s.Neck, s.Head)
		} else {
			for j, p := range []int{s.Chest, s.Neck, s.Head} {
				late := 0.06 * float64(j+1)
				s.ease(p, designed.X, minJerk, at+late, dur, size*[...]float64{0.3, 0.35, 0.3}[j])
			}
		}
		way = -way
		at += dur + s.seed.Between(0.9, 1.1)
	}
	if !flawed {
		s.plant("lockstep", 0, seconds, s.Chest)
	}
}

// drag lets the links of the tail trail behind a swing of its root and then come
// after it, each later than the one before.
func (s *stage) drag(at, dur, size float64) {
	for i, link := range s.tail[1:] {
		late := 0.07 * float64(i+1)
		back := -0.35 * size
		s.ease(link, s.tailAxis, minJerk, at+0.4*late, dur*0.6, back)
		s.ease(link, s.tailAxis, minJerk, at+dur*0.5+late, dur*0.9, -back)
	}
}

// plantLateFollow turns the end of a tail before its root, or long after it.
func plantLateFollow(s *stage, flawed bool) {
	s.stiff = true
	s.anyOf(withTail)
	s.live(0, 0)
	at, way := s.seed.Between(0.9, 1.1), s.seed.Sign()
	odd := s.seed.Int(2)
	n := len(s.tail) - 1
	for i := range 2 {
		dur, size := s.seed.Between(0.45, 0.6), s.seed.Between(26, 40)*way
		step := s.seed.Between(0.035, 0.06)
		if flawed && i == odd {
			step = -s.seed.Between(0.13, 0.2) / float64(n)
			if s.seed.Chance(0.4) {
				step = s.seed.Between(0.53, 0.57) / float64(n)
			}
			s.plant("late-follow", at, at+dur, s.tail[n], s.tail...)
		}
		for j, link := range s.tail {
			k := 0.7
			if j == 0 {
				k = 1
			}
			s.ease(link, s.tailAxis, minJerk, at+step*float64(j), dur, size*k)
		}
		way = -way
		at += dur + s.seed.Between(1.5, 1.8)
	}
	if !flawed {
		s.plant("late-follow", 0, seconds, s.tail[n])
	}
}

// plantCrowded lets everything be fastest in the same frame, or one after the
// other.
func plantCrowded(s *stage, flawed bool) {
	s.anyOf(bodies)
	s.live(0, 0)
	centre := s.seed.Between(2, 3.5)
	m, brows := s.withBrows(s.moves())
	for i, x := range m {
		n := min(i, brows)
		dur, late := 0.45+0.09*float64(n%6), 0.0
		if !flawed {
			late = 0.13 * float64(n)
		}
		s.ease(x.part, x.axis, minJerk, centre+late-dur/2, dur, x.change)
	}
	s.plant("crowded-beat", centre-0.45, centre+0.45, m[0].part, parts(m)...)
}

// plantMasked changes the face in a whip of the head, or before it.
func plantMasked(s *stage, flawed bool) {
	s.anyOf(withFace)
	s.live(0, 0)
	at, dur := s.seed.Between(1.5, 3.5), s.seed.Between(0.35, 0.45)
	s.ease(s.head, designed.Y, minJerk, at, dur, s.seed.Between(65, 80)*s.seed.Sign())
	change := at + 0.25*dur
	if !flawed {
		change = at - s.seed.Between(0.5, 0.7)
		if s.seed.Chance(0.3) {
			change = at + dur + s.seed.Between(0.1, 0.3)
		}
	}
	changed := s.brow
	size := -s.seed.Between(9, 12)
	if s.seed.Chance(0.3) {
		changed, size = []int{s.jaw}, -size
	}
	for _, p := range changed {
		s.ease(p, designed.X, minJerk, change, dur*0.5, size)
	}
	s.plant("masked-change", change, change+dur*0.5, changed[0], changed...)
}

// plantRushed holds an expression, or a pose of the head between two moves, for
// a few frames only, or long enough.
func plantRushed(s *stage, flawed bool) {
	s.anyOf(withFace)
	s.live(0, 0)
	at := s.onFrame(s.seed.Between(1.2, 3))
	hold := s.onFrame(s.seed.Between(0.1, 0.2))
	if !flawed {
		hold = s.seed.Between(0.6, 1)
	}
	dur := s.onFrame(s.seed.Between(0.2, 0.3))
	held, axis, size := s.brow, designed.X, -8.0
	if s.seed.Chance(0.35) {
		held, axis, size = []int{s.head}, designed.Y, s.seed.Between(18, 26)*s.seed.Sign()
	}
	for _, p := range held {
		s.ease(p, axis, minJerk, at, dur, size)
		s.ease(p, axis, minJerk, at+dur+hold, dur, size)
	}
	s.plant("rushed-read", at+dur, at+dur+hold, held[0], held...)
}
