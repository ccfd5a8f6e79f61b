package body

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/parse/scene"
)

// makeLabels says of every part of the figure what it is: from its own name, else
// from its parent for what hangs on a limb, else from the figure's shape when
// names say next to nothing of its body.
func (fig *Anatomy) makeLabels(rest map[scene.PartID]r3.Vec) {
	s := fig.cast
	fig.labels = make(map[scene.PartID]Label, len(fig.Parts))
	var kinds kindSet
	skeleton := 0
	below := fig.kindsBelow()
	for _, p := range fig.Parts {
		part := &s.Scene.Parts[p]
		l := ReadName(part.Name)
		if part.Kind == scene.Tip || (l.inherits() && below[p]&(1<<Hips) != 0) {
			l = Label{} // "End Site" says nothing, a tip belongs to its bone; above hips stands no limb
		}
		fig.labels[p] = l
		kinds |= kindBit(l)
		if s.Moves(p) && s.isBone(p) {
			skeleton++
		}
	}
	if count(kinds&bodyKinds) < 3 && skeleton >= 4 {
		fig.labelByShape(rest)
	} else if skeleton >= 4 {
		fig.fillByShape(rest)
	}
	fig.labelForelegs(rest)
	for _, p := range fig.Parts {
		l := fig.labels[p]
		up, ok := fig.labels[s.Scene.Parts[p].Parent]
		if !ok {
			continue
		}
		switch {
		case l.Body == NoBody && (!s.Changes(p) || up.inherits()):
			l = Label{Body: up.Body, Side: up.Side, Pair: up.Pair}
		case l.Side == Middle && up.Side != Middle && (l.Body == Fingers || l.Body == up.Body):
			l.Side = up.Side
		case l.Body == Leg && up.Body == Leg && l.Pair == 0:
			l.Pair = up.Pair
		}
		fig.labels[p] = l
	}
	fig.labelSides(rest)
}

// kindsBelow says which body parts the names below each part speak of.
func (fig *Anatomy) kindsBelow() map[scene.PartID]kindSet {
	parts := fig.cast.Scene.Parts
	below := make(map[scene.PartID]kindSet, len(fig.Parts))
	for _, p := range slices.Backward(fig.Parts) {
		if up := parts[p].Parent; up != scene.NoPart {
			below[up] |= below[p] | kindBit(ReadName(parts[p].Name))
		}
	}
	return below
}

// bodyKinds are the kinds that show how a body is built. Hips are none of them:
// every second root is called so.
const bodyKinds = (trunk &^ kindSet(1<<Hips)) | kindSet(1<<Arm|1<<Leg|1<<Fingers|1<<Wing|1<<Tail|1<<(Arm+32)|1<<(Leg+32)|1<<(Wing+32))

// inherits reports whether parts without a name of their own below such a part
// belong to it: the segments of limbs and chains.
func (l Label) inherits() bool {
	switch l.Body {
	case Arm, Leg, Fingers, Tail, Wing, Hair, Coat, Rope, Strand, Ears:
		return true
	}
	return false
}

// labelSides gives a side to limbs whose names have none, from the side of the
// rest mid-plane they stand on.
func (fig *Anatomy) labelSides(rest map[scene.PartID]r3.Vec) {
	var bare []scene.PartID
	for _, p := range fig.Parts {
		l := fig.labels[p]
		if l.Side == Middle && (l.Body == Arm || l.Body == Leg || l.Body == Wing || l.Body == Fingers) {
			bare = append(bare, p)
		}
	}
	if len(bare) == 0 {
		return
	}
	side := fig.lateral(rest)
	root := rest[fig.Root]
	for _, p := range bare {
		d := r3.Dot(r3.Sub(rest[p], root), side)
		l := fig.labels[p]
		switch {
		case d > 0.01*fig.Size:
			l.Side = Left
		case d < -0.01*fig.Size:
			l.Side = Right
		}
		fig.labels[p] = l
	}
}

// lateral is the horizontal unit direction across the figure at rest: the
// direction of greatest mirror symmetry of its parts about the root, or zero
// for a figure that has none. Its sign is arbitrary unless named parts fix it.
func (fig *Anatomy) lateral(rest map[scene.PartID]r3.Vec) r3.Vec {
	up := fig.cast.Up()
	a := r3.Vec{X: up.Y, Y: up.Z, Z: up.X} // any direction that is not up
	a = r3.Unit(r3.Sub(a, r3.Scale(r3.Dot(a, up), up)))
	b := r3.Cross(up, a)
	root := rest[fig.Root]
	pts := make([]r3.Vec, 0, len(fig.Parts))
	for _, p := range fig.Parts {
		pts = append(pts, r3.Sub(rest[p], root))
		if len(pts) == 256 {
			break // symmetry shows in the first few hundred parts
		}
	}
	best, bestErr := r3.Vec{}, math.Inf(1)
	for k := range 12 {
		c, sn := math.Cos(float64(k)*math.Pi/12), math.Sin(float64(k)*math.Pi/12)
		d := r3.Add(r3.Scale(c, a), r3.Scale(sn, b))
		if e := mirrorError(pts, d); e < bestErr-1e-9*fig.Size {
			best, bestErr = d, e
		}
	}
	return best
}

// mirrorError is the mean distance from the mirror image of each point off the
// plane through the origin with normal d to the nearest point; a plane that all
// points lie in says nothing and gets the worst mark.
func mirrorError(pts []r3.Vec, d r3.Vec) float64 {
	sum, spread := 0.0, 0.0
	for _, p := range pts {
		h := r3.Dot(p, d)
		spread += math.Abs(h)
		m := r3.Sub(p, r3.Scale(2*h, d))
		near := math.Inf(1)
		for _, q := range pts {
			near = min(near, r3.Norm2(r3.Sub(m, q)))
		}
		sum += math.Sqrt(near)
	}
	if spread < 1e-3*sum || spread == 0 {
		return math.Inf(1)
	}
	return sum / spread
}
