// Package natural makes figures that move naturally, at random but repeatably:
// nothing in them is a flaw. Parts start and stop at times of their own, holds
// drift, lids blink, feet stay where they are planted. The corpus takes its
// clean shots from here and plants its flaws into them.
package natural

import (
	"fmt"

	"curvelint/cmd/lab/designed"
)

// Options say which natural shot is made.
type Options struct {
	Seed    designed.Seed
	Seconds float64
	// Names is the habit of the figure's names; nil is designed.Snake.
	Names designed.Naming
	// Size scales the figure; 0 is 1.
	Size float64
}

// Kind names a kind of natural shot.
type Kind string

// The kinds, each a function of Options.
const (
	Acting    Kind = "acting"    // a biped that looks, gestures and shifts its weight
	Walk      Kind = "walk"      // a biped that walks
	Step      Kind = "step"      // a biped that shifts its weight and takes single steps
	Nod       Kind = "nod"       // a biped that nods and shakes its head
	Work      Kind = "work"      // a biped that moves a box with both hands
	Carry     Kind = "carry"     // two bipeds with one beam between them
	Talk      Kind = "talk"      // a face of joints that speaks
	Shapes    Kind = "shapes"    // a face of shape weights that speaks
	Trot      Kind = "trot"      // a quadruped that walks
	Graze     Kind = "graze"     // a quadruped that stands, looks and wags its tail
	Flight    Kind = "flight"    // a bird in the air
	Pendulum  Kind = "pendulum"  // a lantern on a line, swinging out
	TailChain Kind = "tailchain" // a tail that waves by itself
)

// Kinds lists all kinds.
var Kinds = []Kind{Acting, Walk, Step, Nod, Work, Carry, Talk, Shapes, Trot, Graze, Flight, Pendulum, TailChain}

var makers = map[Kind]func(*maker){
	Acting: (*maker).acting, Walk: (*maker).walk, Step: (*maker).step, Nod: (*maker).nod, Work: (*maker).work, Carry: (*maker).carry,
	Talk: (*maker).talk, Shapes: (*maker).shapes, Trot: (*maker).trot, Graze: (*maker).graze,
	Flight: (*maker).flight, Pendulum: (*maker).pendulum, TailChain: (*maker).tailChain,
}

// Shot makes a natural shot. The same kind and options give the same shot; an
// unknown kind panics.
func Shot(k Kind, o Options) *designed.Shot {
	if o.Names == nil {
		o.Names = designed.Snake
	}
	if o.Size == 0 {
		o.Size = 1
	}
	m := &maker{Options: o, seed: o.Seed, Shot: designed.NewShot(fmt.Sprintf("%s_%d", k, o.Seed), o.Seconds)}
	makers[k](m)
	return m.Shot
}

// maker is a shot while it is being made.
type maker struct {
	Options
	*designed.Shot
	seed designed.Seed
}

// fork returns a seed of its own for one signal.
func (m *maker) fork() designed.Seed { return designed.Seed(m.seed.Next()) }

// drift is a moving hold's drift.
func (m *maker) drift(amplitude float64) designed.Signal { return designed.Drift(m.fork(), amplitude) }

// alive adds drift to every component of a part's turn.
func (m *maker) alive(part int, degrees float64) {
	for axis := range 3 {
		m.Ease(part, axis, m.drift(m.seed.Spread(degrees, 0.4)))
	}
}

// blinks chooses times at which the lids close, 1.6 to 4.5 seconds apart.
func (m *maker) blinks() []float64 {
	var times []float64
	for t := m.seed.Between(0.3, 3); t < m.Seconds-0.3; t += m.seed.Between(1.6, 4.5) {
		times = append(times, t)
	}
	return times
}

// accent is a stroke's accent at random: some anticipation, some overshoot.
func (m *maker) accent() designed.Accent {
	a := designed.Accent{}
	if m.seed.Chance(0.4) {
		a.Back = m.seed.Between(0.04, 0.12)
	}
	if m.seed.Chance(0.5) {
		a.Over, a.Settle = m.seed.Between(0.03, 0.09), m.seed.Between(0.2, 0.35)
	}
	return a
}
