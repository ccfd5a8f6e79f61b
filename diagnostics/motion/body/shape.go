package body

import (
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion/vec"
	"curvelint/parse/scene"
)

// shape is a figure seen without names: the hierarchy, where its parts are at
// rest, and which of them are mirror pairs.
//
// What can be told so: the head (the end of the middle line beyond the limbs),
// the spine, legs (pairs that hang to the floor), arms or wings, hands, feet,
// fingers, tails and other chains, and left from right where feet, a lying
// trunk or the way of travel show what is forward. What cannot: which of the
// pairs on a face are brows, eyes or mouth corners (lids show by their blinks),
// what a shape weight is of, whether a chain is hair or a rope, and the sides
// of a figure that has neither feet nor a direction.
type shape struct {
	fig  *Anatomy
	rest map[scene.PartID]r3.Vec
	up   r3.Vec
	// bones are the children of a part that are bones of the figure, and reach
	// is the longest way along bones below it.
	bones map[scene.PartID][]scene.PartID
	reach map[scene.PartID]float64
	size  map[scene.PartID]int // bones below and with it
	// mirror is the other part of a mirror pair.
	mirror map[scene.PartID]scene.PartID
	// line is the middle line from the root to the end of the head, lineIndex where
	// on it a part is, and head the index in it of the head.
	line      []scene.PartID
	lineIndex map[scene.PartID]int
	head      int
	// limbs are the mirror pairs of limbs along the line.
	limbs []limbPair
	known []map[scene.PartID]r3.Vec // see poses
	// named are the parts whose names tell what they are.
	named map[scene.PartID]bool
}

// limbPair is a pair of chains that leave the middle line.
type limbPair struct {
	at    int // index in the line
	parts [2]scene.PartID
	ends  [2]scene.PartID
	label Label
}

// limbShare is how long a pair of chains must be for a pair of limbs, in figure
// sizes (a short arm of a designed biped is 0.3 of it, an ear of a quadruped
// 0.05).
const limbShare = 0.12

// labelByShape labels a figure whose names say nothing.
func (fig *Anatomy) labelByShape(rest map[scene.PartID]r3.Vec) {
	s := newShape(fig, rest, fig.cast.Up())
	s.findPairs()
	s.findLine()
	if len(s.limbs) == 0 && s.head < 0 {
		s.labelChain()
		return
	}
	s.nameLimbs()
	s.labelLine()
	s.orderSides()
	for _, l := range s.limbs {
		s.labelLimbs(l)
	}
	s.labelRest()
	fig.pairs = s.mirror
}

// newShape measures the bones of a figure; up is zero when it is not known yet.
func newShape(fig *Anatomy, rest map[scene.PartID]r3.Vec, up r3.Vec) *shape {
	s := &shape{fig: fig, rest: rest, up: up, head: -1,
		bones: map[scene.PartID][]scene.PartID{}, reach: map[scene.PartID]float64{}, size: map[scene.PartID]int{},
		mirror: map[scene.PartID]scene.PartID{}, lineIndex: map[scene.PartID]int{}, named: map[scene.PartID]bool{}}
	for p, l := range fig.labels {
		s.named[p] = l.Body != NoBody
	}
	for _, p := range slices.Backward(fig.Parts) {
		s.size[p]++
		for _, c := range fig.cast.Children(p) {
			if !fig.Holds(c) || !fig.cast.isBone(c) {
				continue
			}
			s.bones[p] = append(s.bones[p], c)
			s.reach[p] = max(s.reach[p], s.reach[c]+vec.Distance(rest[c], rest[p]))
			s.size[p] += s.size[c]
		}
	}
	return s
}

// moves reports whether the part's own transform changes.
func (s *shape) moves(p scene.PartID) bool { return s.fig.cast.Moves(p) }

// level is a direction without its part along up.
func (s *shape) level(v r3.Vec) r3.Vec { return r3.Sub(v, r3.Scale(r3.Dot(v, s.up), s.up)) }

// set labels a part of which no name tells; a tip has no place of its own.
func (s *shape) set(p scene.PartID, l Label) {
	if s.named[p] {
		return
	}
	if s.fig.cast.Scene.Parts[p].Kind == scene.Tip {
		l.Place = NoPlace
	}
	s.fig.labels[p] = l
}

// below calls f for a part and all bones below it.
func (s *shape) below(p scene.PartID, f func(scene.PartID)) {
	f(p)
	for _, c := range s.bones[p] {
		s.below(c, f)
	}
}

// chainFrom is the longest chain from p down, p first.
func (s *shape) chainFrom(p scene.PartID) []scene.PartID {
	chain := []scene.PartID{p}
	for len(s.bones[p]) > 0 {
		next := s.bones[p][0]
		for _, c := range s.bones[p][1:] {
			if s.reach[c]+vec.Distance(s.rest[c], s.rest[p]) > s.reach[next]+vec.Distance(s.rest[next], s.rest[p]) {
				next = c
			}
		}
		p = next
		chain = append(chain, p)
	}
	return chain
}

// chainJoints is how many turning joints an unbranched figure needs to count as
// a flexible chain (a tail, a rope); an arm of a machine has fewer.
const chainJoints = 4

// labelChain labels a figure that is one chain without limbs.
func (s *shape) labelChain() {
	chain, turning := s.chainFrom(s.fig.Root), 0
	for _, p := range chain {
		if s.fig.cast.Turns(p) {
			turning++
		}
		if len(s.bones[p]) > 1 {
			return
		}
	}
	if turning < chainJoints {
		return
	}
	for _, p := range chain {
		if s.fig.cast.Turns(p) {
			s.set(p, Label{Body: Strand})
		}
	}
}

// labelLine names the middle line: hips up to the legs, spine up to the arms,
// neck, head.
func (s *shape) labelLine() {
	legs, arms := -1, -1
	for _, l := range s.limbs {
		switch {
		case l.label.Body == Leg && l.label.Pair != 'f' && legs < 0:
			legs = l.at
		case l.label.Body != Ears:
			arms = l.at
		}
	}
	if legs < 0 {
		legs = arms - 1 // a bird in the air: hips are what is above the wings
	}
	chest := arms
	if arms < 0 {
		chest = s.head - 2 // no arms: one joint before the head is the neck
	}
	for i, p := range s.line {
		l := Label{Body: Chest}
		switch {
		case i >= s.head:
			l.Body = Head
		case i <= legs:
			l.Body = Hips
		case i > chest && i > legs:
			l.Body = Neck
		}
		if i < s.head && !s.moves(p) && i == 0 {
			continue // a still node over the figure is no hips
		}
		s.set(p, l)
	}
}

// labelRest labels what hangs on the middle line beside limbs: the jaw, lids
// that blink, ears, tails.
func (s *shape) labelRest() {
	for i, p := range s.line {
		for _, c := range s.bones[p] {
			_, onLine := s.lineIndex[c]
			if onLine || s.fig.labels[c].Body != NoBody {
				continue
			}
			l := Label{Body: s.looseBody(c, i)}
			if l.Body != NoBody {
				s.below(c, func(q scene.PartID) { s.set(q, l) })
			}
		}
	}
}

// looseBody guesses what a chain beside the limbs is, from where on the line it
// hangs.
func (s *shape) looseBody(c scene.PartID, at int) Body {
	_, paired := s.mirror[c]
	joints := 0
	for _, p := range s.chainFrom(c) {
		if s.fig.cast.Turns(p) {
			joints++
		}
	}
	switch {
	case at >= s.head && paired && joints == 1 && s.fig.cast.blinks(c):
		return Lids
	case at >= s.head && paired && joints > 1:
		return Ears
	case at >= s.head && paired:
		return Features // brows, eyes or mouth corners: no name says which
	case at >= s.head && joints == 0:
		return Head
	case at >= s.head && joints == 1:
		return Mouth
	case at >= s.head:
		return Hair
	case paired:
		return NoBody
	case joints > 0 && s.fig.labels[s.line[at]].Body == Hips || len(s.limbs) == 1 && joints > 0:
		return Tail
	case joints > 1:
		return Coat
	}
	return NoBody
}
