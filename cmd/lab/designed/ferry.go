package designed

import "gonum.org/v1/gonum/spatial/r3"

// Ferry holds the indices of what every shot of the night ferry has: a deck
// that rolls, a winch that turns, a rope and a camera.
type Ferry struct {
	Set, Deck, Winch, Drum, Rope, Cam int
}

// fairlead is where the rope leaves the winch, on the deck.
var fairlead = r3.Vec{Y: 72, Z: 250}

// frames24 turns a number of frames at 24 per second into seconds.
func frames24(n float64) float64 { return n / 24 }

// roll, pitch and heave are the deck's motion in a low swell.
var (
	roll  = Wave(4.5, 5.2, 0.1)
	pitch = Wave(1.6, 3.9, 0.3)
	heave = Wave(11, 4.6, 0.05)
)

// aboard makes a part ride with the deck.
func aboard(p Part) Part {
	p.Turn[X], p.Turn[Z], p.Move[Y] = pitch, roll, heave
	return p
}

// NewFerry adds the set below a root part called Shot. hauled says where on the
// deck the rope is held, and spin how far the winch has turned in degrees.
func NewFerry(s *Shot, hauled func(t float64) r3.Vec, spin Signal) *Ferry {
	f := &Ferry{Set: s.Add(-1, Part{Name: "Shot"})}
	f.Deck = s.Add(f.Set, aboard(Part{Name: "deck"}))
	f.Winch = s.Add(f.Deck, Part{Name: "winch", Offset: r3.Vec{Y: 55, Z: 280}})
	f.Drum = s.Add(f.Winch, Part{Name: "drum", Turn: [3]Signal{X: spin}})
	stretch := func(t float64) float64 { return r3.Norm(r3.Sub(hauled(t), fairlead)) / 100 }
	f.Rope = s.Add(f.Deck, Part{Name: "rope", Offset: fairlead, Aim: hauled, Size: [3]Signal{Z: stretch}})
	f.Cam = s.Add(f.Set, Part{
		Name: "cam", Kind: Camera, Offset: r3.Vec{X: 175, Y: 152, Z: 520},
		Turn: [3]Signal{X: Still(-3), Y: Still(17)},
		Lens: &Lens{Focal: 42, Width: 24.89, Height: 13.454},
	})
	s.Focus = f.Cam
	return f
}
