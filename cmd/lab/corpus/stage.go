package corpus

import (
	"math"
	"slices"

	"curvelint/cmd/lab/designed"
	"curvelint/diagnostics/config"
)

// stage is a shot for one scene of the corpus. A planter first puts a figure on
// it, lets it live, and then adds the motion under test.
type stage struct {
	*designed.Shot
	// Body is the figure's when it is a biped; planters for any figure use cast.
	*designed.Body
	cast
	seed    designed.Seed
	names   designed.Naming
	k       float64 // size of the figure
	label   designed.Label
	blink   bool
	stiff   bool        // limbs swing as one piece
	strokes [][]float64 // when those that were keyed start and end, in seconds
	rate    float64
	formats []writer      // those that can carry the flaw
	config  config.Config // what a person says of the shot: its floor, that it is a cycle
}

// seconds is the length of every scene.
const seconds = 6

func newStage(seed designed.Seed, names designed.Naming) *stage {
	s := &stage{Shot: designed.NewShot("corpus", seconds), seed: seed, names: names, blink: true, formats: anyFormat}
	s.k = s.seed.Between(0.6, 1.5)
	return s
}

// out is 1 on the left and -1 on the right.
func out(side int) float64 { return 1 - 2*float64(side) }

// fork is a seed of its own for one signal.
func (s *stage) fork() designed.Seed { return designed.Seed(s.seed.Next()) }

// fullWeight is how many degrees of a jointed face a whole shape weight stands
// for.
const fullWeight = 40

// Ease adds a signal in degrees to a part's turn, or to a shape weight what
// stands for it.
func (s *stage) Ease(part, axis int, v designed.Signal) {
	if p := &s.Parts[part]; p.Kind == designed.Weight {
		p.Value = designed.Add(p.Value, designed.Times(1.0/fullWeight, v))
		return
	}
	s.Shot.Ease(part, axis, v)
}

// live adds what no body does without, but in the times [from, to) in which the
// scene must be dead.
func (s *stage) live(from, to float64) {
	add := func(part, axis int, sig designed.Signal) { s.Ease(part, axis, dead(sig, from, to)) }
	c := &s.cast
	period, phase := s.seed.Between(2.6, 3.8), s.seed.Float()
	if c.chest >= 0 {
		add(c.spine, designed.X, designed.Breath(-0.4, period, phase))
		add(c.chest, designed.X, designed.Breath(-0.9, period, phase-0.05))
	}
	for _, p := range c.soft {
		for axis := range 3 {
			add(p, axis, designed.Drift(s.fork(), s.seed.Spread(0.9, 0.4)))
		}
	}
	if c.floats >= 0 {
		for axis := range 3 {
			s.Shift(c.floats, axis, dead(designed.Drift(s.fork(), 0.7*s.k), from, to))
		}
	}
	s.liveFace(from, to)
}

// liveFace lets the lids blink, the eyes wander and the rest of the face drift.
func (s *stage) liveFace(from, to float64) {
	add := func(part, axis int, sig designed.Signal) { s.Ease(part, axis, dead(sig, from, to)) }
	quick := designed.Drift(s.fork(), 0.6)
	var blinks []float64
	for t := s.seed.Between(0.3, 2); s.blink && t < seconds-0.3; t += s.seed.Between(1.6, 4) {
		if t < from-0.3 || t > to+0.1 {
			blinks = append(blinks, t)
		}
	}
	for side := range s.lid {
		if s.blink {
			add(s.lid[side], designed.X, designed.Add(designed.Blink(28, blinks...), quick))
			add(s.eye[side], designed.X, quick)
		}
		add(s.brow[side], designed.X, designed.Drift(s.fork(), 0.6))
	}
	for _, p := range s.lips {
		add(p, designed.X, designed.Drift(s.fork(), 0.5))
	}
	if s.jaw >= 0 {
		add(s.jaw, designed.X, designed.Drift(s.fork(), 0.4))
	}
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

// ease adds a stroke to a part's turn. What hangs on a joint of a limb or a tail
// follows a large one a little later: stiff limbs are a flaw of their own.
func (s *stage) ease(part, axis int, p designed.Profile, from, dur, change float64) {
	s.Ease(part, axis, designed.Stroke(p, from, from+dur, change))
	if s.stiff || math.Abs(change) < 25 {
		return
	}
	for _, chain := range append(s.limbs[:len(s.limbs):len(s.limbs)], s.tail) {
		first := slices.Index(chain, part)
		if first < 0 {
			continue
		}
		for i, q := range chain[first+1:] {
			late := 0.05 * float64(i+1)
			s.Ease(q, axis, designed.Stroke(minJerk, from+late, from+late+dur, 0.25*change/float64(i+1)))
		}
	}
}

// onFrame is the time of the frame nearest to t: where an animator starts and
// ends a move.
func (s *stage) onFrame(t float64) float64 { return math.Round(t*s.rate) / s.rate }
