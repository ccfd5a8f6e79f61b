package corpus

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/designed"
)

// stage is a shot with one biped that stands and lives: it breathes, drifts and
// blinks, and has planted feet. Planters add the motion under test.
type stage struct {
	*designed.Shot
	*designed.Body
	seed  designed.Seed
	k     float64 // size of the figure
	label designed.Label
	blink bool
	rate  float64
}

// seconds is the length of every scene.
const seconds = 6

// newStage makes a stage; alike hangs both arms the same way.
func newStage(seed designed.Seed, names designed.Naming, alike bool) *stage {
	s := &stage{Shot: designed.NewShot("corpus", seconds), seed: seed, blink: true}
	s.k = s.seed.Between(0.6, 1.5)
	s.Body = designed.NewBody(s.Shot, -1, "Mate", names, s.k)
	half := s.seed.Between(13, 20)
	hang := func() [3]float64 {
		return [3]float64{s.seed.Between(7, 14), s.seed.Between(-12, 4), -s.seed.Between(12, 40)}
	}
	arm := hang()
	for side := range 2 {
		if !alike {
			arm = hang()
		}
		at := r3.Scale(s.k, r3.Vec{X: half * out(side), Y: 9, Z: 4 * out(side)})
		s.PlantFoot(s.Shot, side, s.Root, designed.Place3(at, nil, nil, nil), designed.Turn3(nil, designed.Still(12*out(side)), nil))
		s.Ease(s.Upper[side], designed.Z, designed.Still(arm[0]*out(side)))
		s.Ease(s.Upper[side], designed.X, designed.Still(arm[1]))
		s.Ease(s.Fore[side], designed.X, designed.Still(arm[2]))
	}
	s.Shift(s.Hips, designed.Y, designed.Still(-4.5*s.k))
	return s
}

// out is 1 on the left and -1 on the right.
func out(side int) float64 { return 1 - 2*float64(side) }

// fork is a seed of its own for one signal.
func (s *stage) fork() designed.Seed { return designed.Seed(s.seed.Next()) }

// live adds what no body does without, but in the times [from, to) in which the
// scene must be dead.
func (s *stage) live(from, to float64) {
	add := func(ease func(int, int, designed.Signal), part, axis int, sig designed.Signal) {
		ease(part, axis, dead(sig, from, to))
	}
	period, phase := s.seed.Between(2.6, 3.8), s.seed.Float()
	add(s.Ease, s.Spine, designed.X, designed.Breath(-0.4, period, phase))
	add(s.Ease, s.Chest, designed.X, designed.Breath(-0.9, period, phase-0.05))
	for _, p := range []int{s.Spine, s.Chest, s.Neck, s.Head, s.Hand[0], s.Hand[1], s.Upper[0], s.Upper[1]} {
		for axis := range 3 {
			add(s.Ease, p, axis, designed.Drift(s.fork(), s.seed.Spread(0.9, 0.4)))
		}
	}
	for axis := range 3 {
		add(s.Shift, s.Hips, axis, designed.Drift(s.fork(), 0.7*s.k))
	}
	quick := designed.Drift(s.fork(), 0.6)
	var blinks []float64
	for t := s.seed.Between(0.3, 2); s.blink && t < seconds-0.3; t += s.seed.Between(1.6, 4) {
		if t < from-0.3 || t > to+0.1 {
			blinks = append(blinks, t)
		}
	}
	for side := range 2 {
		if s.blink {
			add(s.Ease, s.Lid[side], designed.X, designed.Add(designed.Blink(28, blinks...), quick))
			add(s.Ease, s.Eye[side], designed.X, quick)
		}
		add(s.Ease, s.Brow[side], designed.X, designed.Drift(s.fork(), 0.6))
	}
	add(s.Ease, s.Jaw, designed.X, designed.Drift(s.fork(), 0.4))
}

// dead freezes a signal between two times: its own time stands still there and
// goes on where it stopped, easing out and in so that the freeze makes no jerk
// of its own.
func dead(sig designed.Signal, from, to float64) designed.Signal {
	if to <= from {
		return sig
	}
	const soft = 0.35
	clock := func(t float64) float64 {
		switch {
		case t < from-soft:
			return t
		case t < from:
			x := (t - from + soft) / soft
			return from - soft + soft*(x-x*x/2)
		case t < to:
			return from - soft/2
		case t < to+soft:
			x := (t - to) / soft
			return from - soft/2 + soft*x*x/2
		}
		return t - (to - from) - soft/2
	}
	return func(t float64) float64 { return sig(clock(t)) }
}

// plant says what was planted: on a part, with others that may bear the note,
// in seconds.
func (s *stage) plant(check string, from, to float64, part int, also ...int) {
	l := designed.Label{Check: check, Part: s.Path(part), From: from, To: to}
	for _, p := range also {
		l.Also = append(l.Also, s.Path(p))
	}
	s.label = l
}

// ease adds a stroke to a part's turn.
func (s *stage) ease(part, axis int, p designed.Profile, from, dur, change float64) {
	s.Ease(part, axis, designed.Stroke(p, from, from+dur, change))
}

// onFrame is the time of the frame nearest to t: where an animator starts and
// ends a move.
func (s *stage) onFrame(t float64) float64 { return math.Round(t*s.rate) / s.rate }
