package corpus

import (
	"strconv"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/cmd/lab/designed"
)

// cast names the parts of a stage's figure by what they do; -1 and nil stand for
// what the figure does not have.
type cast struct {
	root, hips, spine, chest, neck, head, jaw int

	limbAxis       int     // about which they swing
	limbs          [][]int // free limbs from the shoulder out: arms, wings
	tail           []int
	tailAxis       int // about which it swings
	ears           []int
	brow, lid, eye []int
	lips           []int   // corners of the mouth
	trunk          []int   // hips to head, as far as there is any
	soft           []int   // what drifts in a hold
	crouch         float64 // how low the hips can go, in centimetres
	floats         int     // what shifts in a hold: the hips, a bird's body
	beast          *designed.Quadruped
}

// A kind of figure that can stand on a stage.
type castKind func(s *stage)

// The kinds of figures.
var (
	withFace  = []castKind{(*stage).biped, (*stage).biped, (*stage).onDeck, (*stage).pair, (*stage).jointedFace, (*stage).shapedFace}
	withLimbs = []castKind{(*stage).biped, (*stage).biped, (*stage).onDeck, (*stage).pair, withBird}
	withTail  = []castKind{withQuadruped, (*stage).tailAlone, (*stage).braided}
	standing  = []castKind{(*stage).biped, (*stage).biped, (*stage).onDeck, withQuadruped}
	// moving by itself, not by what its hands hold
	unheld   = []castKind{(*stage).biped, (*stage).biped, (*stage).onDeck, withQuadruped, withBird, (*stage).jointedFace, (*stage).shapedFace, (*stage).tailAlone}
	everyone = []castKind{(*stage).biped, (*stage).biped, (*stage).onDeck, (*stage).pair, withQuadruped, withBird, (*stage).jointedFace, (*stage).shapedFace, (*stage).tailAlone}
)

// anyOf puts one of the figures on the stage.
func (s *stage) anyOf(kinds []castKind) { kinds[s.seed.Int(len(kinds))](s) }

// The same as kinds of figures.
func withQuadruped(s *stage) { s.quadruped() }
func withBird(s *stage)      { s.bird() }

// nobody is a cast without parts.
func nobody() cast {
	return cast{root: -1, hips: -1, spine: -1, chest: -1, neck: -1, head: -1, jaw: -1, floats: -1}
}

// biped is one figure that stands with planted feet, its arms as they happen to
// hang.
func (s *stage) biped() { s.standing(-1, "Mate", r3.Vec{}, false) }

// bipedAlike is a biped both of whose arms hang the same way.
func (s *stage) bipedAlike() { s.standing(-1, "Mate", r3.Vec{}, true) }

// standing puts a biped below parent, with both arms alike or not.
func (s *stage) standing(parent int, name string, at r3.Vec, alike bool) {
	s.Body = designed.NewBody(s.Shot, parent, name, s.names, s.k)
	s.Parts[s.Root].Offset = at
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
	b := s.Body
	s.cast = cast{
		root: b.Root, hips: b.Hips, spine: b.Spine, chest: b.Chest, neck: b.Neck, head: b.Head, jaw: b.Jaw,
		floats: b.Hips, crouch: 29,
		limbs: [][]int{{b.Upper[0], b.Fore[0], b.Hand[0]}, {b.Upper[1], b.Fore[1], b.Hand[1]}},
		brow:  b.Brow[:], lid: b.Lid[:], eye: b.Eye[:],
		trunk: []int{b.Hips, b.Spine, b.Chest, b.Neck, b.Head},
		soft:  []int{b.Spine, b.Chest, b.Neck, b.Head, b.Hand[0], b.Hand[1], b.Upper[0], b.Upper[1]},
	}
}

// onDeck is a biped on a deck that heaves and rolls, with a crate beside it that
// works against its lashing.
func (s *stage) onDeck() {
	deck := s.Add(-1, designed.Part{Name: "Deck"})
	period := s.seed.Between(3.5, 6)
	s.Shift(deck, designed.Y, designed.Wave(6*s.k, period, s.seed.Float()))
	s.Ease(deck, designed.X, designed.Wave(2.5, period*1.2, s.seed.Float()))
	s.Ease(deck, designed.Z, designed.Wave(3, period*0.9, s.seed.Float()))
	crate := s.Add(deck, designed.Part{Name: "Crate", Offset: r3.Scale(s.k, r3.Vec{X: -90, Y: 20, Z: 30})})
	s.Ease(crate, designed.Y, designed.Drift(s.fork(), 0.5))
	s.standing(deck, "Mate", r3.Vec{}, false)
}

// pair is two bipeds with one beam between them, held by a hand each; the second
// one only lives.
func (s *stage) pair() {
	k := s.k
	beam := s.Add(-1, designed.Part{Name: "Beam", Offset: r3.Scale(k, r3.Vec{X: 62, Y: 108, Z: 24})})
	for axis := range 3 {
		s.Shift(beam, axis, designed.Drift(s.fork(), 0.8*k))
	}
	s.standing(-1, "Bosun", r3.Scale(k, r3.Vec{X: 124}), false)
	s.grips(designed.Right, beam, 22)
	s.live(0, 0)
	s.standing(-1, "Mate", r3.Vec{}, false)
	s.grips(designed.Left, beam, -22)
	s.limbs = s.limbs[designed.Right:]
}

// grips puts one hand of the biped on a part, x from its middle.
func (s *stage) grips(side, part int, x float64) {
	at := r3.Scale(s.k, r3.Vec{X: x, Y: 1})
	s.HoldHand(s.Shot, side, part, designed.Place3(at, nil, nil, nil), designed.Turn3(designed.Still(-70), designed.Still(-10*out(side)), nil))
}

// quadruped is a four-legged figure that stands.
func (s *stage) quadruped() *designed.Quadruped {
	q := designed.NewQuadruped(s.Shot, -1, "Pup", s.names, s.k)
	for side := range 2 {
		for _, front := range []bool{true, false} {
			at := r3.Vec{X: 8 * out(side), Y: 3, Z: s.seed.Between(-2, 2) - 31}
			if front {
				at.Z += 50
			}
			s.stands(q, front, side, at)
		}
	}
	s.Shift(q.Hips, designed.Y, designed.Still(-3*s.k))
	s.cast = cast{
		beast: q, root: q.Root, hips: q.Hips, spine: q.Spine, chest: q.Chest, neck: q.Neck, head: q.Head, jaw: -1,
		floats: q.Hips, crouch: 24, tail: q.Tail, tailAxis: designed.Y, ears: q.Ear[:],
		trunk: []int{q.Hips, q.Spine, q.Chest, q.Neck, q.Head},
		soft:  append([]int{q.Spine, q.Chest, q.Neck, q.Head, q.Ear[0], q.Ear[1]}, q.Tail...),
	}
	return q
}

func (s *stage) stands(q *designed.Quadruped, front bool, side int, at r3.Vec) {
	q.Plant(s.Shot, front, side, q.Root, designed.Place3(r3.Scale(s.k, at), nil, nil, nil), designed.Turn3(nil, designed.Still(4*out(side)), nil))
}

// bird is a bird that hangs in the wind with its wings spread.
func (s *stage) bird() *designed.Bird {
	b := designed.NewBird(s.Shot, -1, "Tern", s.names, s.k)
	s.Parts[b.Root].Offset = r3.Vec{Y: 150 * s.k}
	s.cast = nobody()
	s.floats = b.Body
	s.root, s.neck, s.head = b.Root, b.Neck, b.Head
	s.limbAxis = designed.Z // wings beat
	s.limbs = [][]int{{b.Wing[0], b.Mid[0], b.Outer[0]}, {b.Wing[1], b.Mid[1], b.Outer[1]}}
	s.trunk = []int{b.Body, b.Neck, b.Head}
	s.soft = []int{b.Body, b.Neck, b.Head, b.Tail, b.Wing[0], b.Mid[0], b.Wing[1], b.Mid[1]}
	return b
}

// jointedFace is a head on a neck with a face of joints, shapedFace one with a
// face of shape weights.
func (s *stage) jointedFace() { s.faceAlone(false) }
func (s *stage) shapedFace()  { s.faceAlone(true) }

func (s *stage) faceAlone(shaped bool) {
	f := designed.NewFace(s.Shot, -1, "Mask", s.names, s.k, shaped)
	s.cast = nobody()
	s.root, s.neck, s.head, s.jaw = f.Root, f.Neck, f.Head, f.Jaw
	s.brow, s.lid, s.eye = f.Brow[:], f.Lid[:], f.Eye[:]
	s.lips = f.Corner[:]
	s.trunk, s.soft = []int{f.Neck, f.Head}, []int{f.Neck, f.Head}
	if shaped {
		s.formats = withWeights
		// Weights stay between 0 and 1: at rest brows are half way, lids open.
		for side := range 2 {
			s.Ease(f.Brow[side], designed.X, designed.Still(fullWeight/2))
			s.Ease(f.Lid[side], designed.X, designed.Still(fullWeight/4))
			s.Ease(f.Corner[side], designed.X, designed.Still(fullWeight/2))
		}
		s.Ease(f.Jaw, designed.X, designed.Still(fullWeight/8))
	}
}

// tailAlone is a chain of six links.
func (s *stage) tailAlone() {
	c := designed.NewChain(s.Shot, -1, "Ribbon", "tail", s.names, 6, 90*s.k, r3.Vec{Z: -11 * s.k})
	s.cast = nobody()
	s.root, s.tail, s.tailAxis = c.Root, c.Links, designed.Y
	s.soft = c.Links
}

// braided is a biped with a braid of five links down its back, its tail.
func (s *stage) braided() {
	s.biped()
	s.tailAxis = designed.Z
	up, at := s.Head, r3.Vec{Y: 9, Z: -8}
	for i := range 5 {
		up = s.Add(up, designed.Part{Name: s.names("hair_"+strconv.Itoa(i+1), designed.Middle), Offset: r3.Scale(s.k, at)})
		s.tail = append(s.tail, up)
		at = r3.Vec{Y: -9}
	}
	s.Add(up, designed.Part{Name: s.names("hair_tip", designed.Middle), Kind: designed.Tip, Offset: r3.Scale(s.k, at)})
	s.soft = append(s.soft[:len(s.soft):len(s.soft)], s.tail...)
}

// mover is a part that can make a large move of its own, with the axis and the
// degrees of one.
func (s *stage) mover() (part, axis int, change float64) {
	var choice []func() (int, int, float64)
	if s.head >= 0 {
		choice = append(choice, func() (int, int, float64) { return s.head, designed.Y, s.seed.Between(28, 55) * s.seed.Sign() })
	}
	if s.chest >= 0 {
		choice = append(choice, func() (int, int, float64) { return s.chest, designed.Y, s.seed.Between(16, 28) * s.seed.Sign() })
	}
	for _, l := range s.limbs {
		choice = append(choice, func() (int, int, float64) { return l[0], s.limbAxis, -s.seed.Between(35, 60) })
	}
	if s.tail != nil {
		choice = append(choice, func() (int, int, float64) { return s.tail[0], designed.Y, s.seed.Between(28, 50) * s.seed.Sign() })
	}
	return choice[s.seed.Int(len(choice))]()
}
