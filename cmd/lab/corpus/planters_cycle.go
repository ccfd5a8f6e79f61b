package corpus

import (
	"math"

	"curvelint/cmd/lab/designed"
)

// wholePlanters plant the flaws of a whole clip.
var wholePlanters = map[string]planter{
	"loop-seam":     plantSeam,
	"still-blocked": plantBlocked,
}

// plantSeam makes a cycle of waves that closes, with its last frame the first
// again or the one before it, or that does not: cut too early, with a pose that
// is not brought back, or slowed down at the end.
func plantSeam(s *stage, flawed bool) {
	s.config.Loop = true
	s.anyOf([]castKind{(*stage).biped, (*stage).biped, (*stage).tailAlone, (*stage).jointedFace})
	length := seconds + float64(s.seed.Int(2))/s.rate // the frame after the last is the first, or the last is
	wave := func(size float64, turns int, late float64) designed.Signal {
		return designed.Wave(size, length/float64(turns), -late)
	}
	turns := 3 + s.seed.Int(4)
	slow := func(sig designed.Signal) designed.Signal { return sig }
	var left designed.Signal
	if flawed {
		switch s.seed.Int(3) {
		case 0: // cut too early or too late
			length *= 1 + s.seed.Between(0.25, 0.5)/float64(turns)
		case 1: // a pose that stays
			left = designed.Stroke(minJerk, 2, 4, s.seed.Between(12, 25)*s.seed.Sign())
		default: // eases out at the end and starts at full speed
			slow = func(sig designed.Signal) designed.Signal {
				return func(t float64) float64 { return sig(easedEnd(t, length)) }
			}
		}
	}
	phase := s.seed.Float()
	if s.hips >= 0 {
		s.Shift(s.hips, designed.Y, designed.Still(-2.5*s.k))
	}
	parts := s.soft
	for i, p := range parts {
		late := phase + 0.06*float64(i)
		s.Ease(p, designed.X, slow(wave(s.seed.Between(1.5, 3), turns, late)))
		s.Ease(p, designed.Y, slow(wave(s.seed.Between(1.5, 3), turns, late+0.2)))
	}
	chain := s.tail
	for _, l := range s.limbs {
		chain = append(chain[:len(chain):len(chain)], l...)
	}
	for i, p := range chain {
		s.Ease(p, designed.Y, slow(wave(9, turns, phase+0.08*float64(i))))
	}
	mark := s.root
	if left != nil {
		mark = s.soft[s.seed.Int(len(s.soft))]
		if s.neck >= 0 {
			mark = s.neck
		}
		s.Ease(mark, designed.Y, left)
	}
	all := append(append([]int{s.root}, s.soft...), chain...)
	s.plant("loop-seam", seconds-0.1, seconds, mark, all...)
}

// easedEnd is a clock that slows down to a stop in the last half second.
func easedEnd(t, length float64) float64 {
	const soft = 0.5
	if t < length-2*soft {
		return t
	}
	x := min((t-length+2*soft)/(2*soft), 1)
	return length - 2*soft + 2*soft*(x*x*(2-x)*0.5+x*(1-x)*(1-x)+x*x*(1-x)*0.5)
}

// plantBlocked leaves a figure in blocking: poses that jump from one to the next;
// or lets it move between them, or jump in one arm only.
func plantBlocked(s *stage, flawed bool) {
	s.anyOf([]castKind{(*stage).biped, (*stage).biped, withQuadruped, (*stage).tailAlone})
	poses := 4 + s.seed.Int(3)
	var times []float64
	for i := range poses {
		times = append(times, s.onFrame(0.5+(seconds-1)*(float64(i)+s.seed.Between(0.2, 0.4))/float64(poses)))
	}
	jump := func(x float64) float64 { return math.Floor(x) }
	parts := append([]int{}, s.trunk...)
	for _, l := range s.limbs {
		parts = append(parts, l...)
	}
	parts = append(parts, s.tail...)
	size := func(p int) float64 { // what the legs hang on turns little
		if p == s.hips || p == s.chest || p == s.spine {
			return 3
		}
		return 16
	}
	if s.hips >= 0 {
		s.Shift(s.hips, designed.Y, designed.Still(-4*s.k))
	}
	// Poses of a chain are led by its first part, and so is the way into them.
	follows := map[int]int{}
	for _, chain := range append(s.limbs[:len(s.limbs):len(s.limbs)], s.tail) {
		for i := 1; i < len(chain); i++ {
			follows[chain[i]] = i
		}
	}
	var lead [3][]float64
	for i, p := range parts {
		link := follows[p]
		for axis := range 3 {
			line, last := []designed.Pose{{T: 0, V: 0}}, 0.0
			if link == 0 {
				lead[axis] = lead[axis][:0]
			}
			for j, t := range times {
				if link == 0 {
					lead[axis] = append(lead[axis], s.seed.Between(-size(p), size(p)))
				}
				v := lead[axis][j] * math.Pow(0.7, float64(link))
				if !flawed {
					t += 0.045*float64(i%6) + 0.01*float64(axis) + 0.05*float64(link)
					line = append(line, designed.Pose{T: t, V: last})
					t += 0.34 + 0.02*float64(axis)
				}
				line, last = append(line, designed.Pose{T: t, V: v}), v
			}
			profile := minJerk
			if flawed {
				profile = jump
			}
			s.Ease(p, axis, designed.Through(profile, line...))
		}
	}
	if !flawed {
		s.live(0, 0)
	}
	s.plant("still-blocked", 0, seconds, s.root, append(s.tail[:len(s.tail):len(s.tail)], s.trunk...)...)
}
