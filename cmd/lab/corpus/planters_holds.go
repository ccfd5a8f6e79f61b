package corpus

import "curvelint/cmd/lab/designed"

// holdPlanters plant the flaws of holds.
var holdPlanters = map[string]planter{
	"frozen-hold":   plantFrozen,
	"uniform-drift": plantDrift,
	"dead-stare":    plantStare,
	"loose-settle":  plantSettle,
}

// acts gives the figure something to do before and after a hold: all that can
// move does, each a little after the other.
func (s *stage) acts(at, dur float64) {
	for i, x := range s.moves() {
		from, long := at+0.05*float64(i), dur*s.seed.Between(0.85, 1.15)
		s.Ease(x.part, x.axis, designed.Stroke(minJerk, from, from+long, 0.7*x.change))
		s.follow(x.part, from, long, 0.7*x.change)
	}
}

// follow lets what hangs on a part come after it: the rest of a tail, the joints
// farther out on a limb.
func (s *stage) follow(part int, from, dur, change float64) {
	if s.tail != nil && part == s.tail[0] {
		s.drag(from, dur, change)
	}
	for _, l := range s.limbs {
		if l[0] == part {
			s.ease(l[1], s.limbAxis, minJerk, from+0.08, dur, 0.35*change)
			s.ease(l[2], s.limbAxis, minJerk, from+0.15, dur, 0.25*change)
		}
	}
}

// plantFrozen stops everything, or one part of a body, between two moves.
func plantFrozen(s *stage, flawed bool) {
	s.anyOf(unheld)
	from := s.seed.Between(2.4, 3)
	to := from + s.seed.Between(0.5, 1.2)
	if s.Body != nil && s.seed.Chance(0.4) {
		s.frozenTrunk(from, to, flawed)
		return
	}
	s.acts(from-1.3, 0.7)
	s.acts(to+0.2, 0.7)
	if flawed {
		s.live(from-0.1, to+0.1)
	} else {
		s.live(0, 0)
	}
	also := []int{s.root}
	if len(s.trunk) > 0 {
		also = append(also, s.trunk[0])
	}
	if s.tail != nil {
		also = append(also, s.tail[0])
	}
	s.plant("frozen-hold", from, to, s.root, also...)
}

// frozenTrunk stops a biped from the hips to the chest between two moves while
// its head and arms live and act on.
func (s *stage) frozenTrunk(from, to float64, flawed bool) {
	s.live(0, 0)
	if flawed {
		for _, p := range []int{s.Hips, s.Spine, s.Chest} {
			x := &s.Parts[p]
			for axis := range 3 {
				x.Turn[axis], x.Move[axis] = frozen(x.Turn[axis], from-0.1, to+0.1), frozen(x.Move[axis], from-0.1, to+0.1)
			}
		}
	}
	s.acts(from-1.3, 0.7)
	s.acts(to+0.2, 0.7)
	s.plant("frozen-hold", from, to, s.Chest, s.Spine, s.Hips)
}

// frozen is dead for a signal that may be none.
func frozen(sig designed.Signal, from, to float64) designed.Signal {
	if sig == nil {
		return nil
	}
	return dead(sig, from, to)
}

// plantDrift lets the hips carry an otherwise still body slowly on through a
// hold, or everything drift in a way of its own.
func plantDrift(s *stage, flawed bool) {
	s.anyOf(standing)
	from := s.seed.Between(2.4, 3)
	to := from + s.seed.Between(0.8, 1.4)
	s.acts(from-1.3, 0.7)
	s.acts(to+0.2, 0.7)
	way := s.seed.Between(1.2, 2.4) * s.k * s.seed.Sign()
	axis := []int{designed.X, designed.Y, designed.Z}[s.seed.Int(3)]
	s.Shift(s.hips, axis, designed.Stroke(designed.Smooth, from-0.3, to+0.3, way))
	if flawed {
		s.live(from-0.15, to+0.15)
	} else {
		s.live(0, 0)
	}
	s.plant("uniform-drift", from, to, s.hips, s.root)
}

// plantStare leaves eyes and lids still for most of the scene.
func plantStare(s *stage, flawed bool) {
	s.blink = false
	s.anyOf(withFace)
	s.live(0, 0)
	s.acts(1.5, 0.8)
	s.acts(4, 0.7)
	times := []float64{0.5}
	if !flawed {
		times = []float64{0.5, 2.4, 4.1}
	}
	for _, l := range s.lid {
		s.Ease(l, designed.X, designed.Blink(28, times...))
	}
	s.plant("dead-stare", 0.9, seconds, s.lid[0], append(s.lid[1:], s.eye...)...)
}

// plantSettle lets a part swing on after a stop, or settle.
func plantSettle(s *stage, flawed bool) {
	s.anyOf(everyone)
	s.live(0, 0)
	part, axis, change := s.mover()
	from, dur := 0.8, s.seed.Between(0.4, 0.6)
	half, ratio, n := s.seed.Between(0.2, 0.28), s.seed.Between(0.88, 0.98), 6
	if !flawed {
		ratio, n = s.seed.Between(0.3, 0.45), 3
	}
	// It goes past its place and comes back, past it again, and so on.
	poses := []designed.Pose{{T: from, V: 0}}
	past, at := 0.16*change, from+dur
	for range n {
		poses = append(poses, designed.Pose{T: at, V: change + past})
		past *= -ratio
		at += half
	}
	poses = append(poses, designed.Pose{T: at, V: change})
	s.Ease(part, axis, designed.Through(designed.MinimumJerk, poses...))
	s.follow(part, from, dur, change)
	s.plant("loose-settle", from+dur, at, part)
}
