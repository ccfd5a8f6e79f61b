package motion

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/parse/scene"
)

// labelByShape labels a figure whose names say nothing: the longest upward
// chain is spine and head, chains that reach the floor are legs, mirrored pairs
// that leave the trunk above the hips are arms, what branches from their ends
// fingers, and a chain behind the hips that reaches neither is a tail.
func (fig *Figure) labelByShape(rest map[scene.PartID]r3.Vec) {
	up := fig.study.up()
	h := func(p scene.PartID) float64 { return r3.Dot(rest[p], up) }
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, p := range fig.Parts {
		lo, hi = min(lo, h(p)), max(hi, h(p))
	}
	height := hi - lo
	if height <= 0 {
		return
	}
	trunkParts := fig.trunkByShape(rest, h)
	if fig.branches(trunkParts) < 2 {
		return // a chain alone has no limbs
	}
	onTrunk := map[scene.PartID]int{}
	for i, p := range trunkParts {
		onTrunk[p] = i
	}
	fig.labelTrunk(trunkParts)
	side := fig.lateral(rest)
	mid := rest[fig.Root]
	for _, p := range trunkParts {
		for _, c := range fig.study.children[p] {
			if _, ok := onTrunk[c]; ok || !fig.has(c) {
				continue
			}
			l := Label{}
			end := fig.farthest(c, rest)
			switch {
			case h(end)-lo < 0.1*height && fig.depthTo(c, end) >= 2:
				l.Body = Leg
			case onTrunk[p] > 0 && fig.depthTo(c, end) >= 2 && fig.labels[p].Body != Head:
				l.Body = Arm
			case onTrunk[p] == 0 && fig.depthTo(c, end) >= 2:
				l.Body = Tail
			default:
				continue
			}
			if d := r3.Dot(r3.Sub(rest[end], mid), side); l.Body != Tail && math.Abs(d) > 0.02*fig.Size {
				l.Side = Left
				if d < 0 {
					l.Side = Right
				}
			}
			fig.labelLimb(c, end, l)
		}
	}
}

// branches counts the moving subtrees that leave the trunk.
func (fig *Figure) branches(trunk []scene.PartID) int {
	n := 0
	for _, p := range trunk {
		for _, c := range fig.study.children[p] {
			if fig.has(c) && !slices.Contains(trunk, c) && fig.study.animated[c] {
				n++
			}
		}
	}
	return n
}

// has reports whether p is a part of the figure.
func (fig *Figure) has(p scene.PartID) bool { _, ok := fig.labels[p]; return ok }

// trunkByShape returns the chain from the root to the tip that stands highest.
func (fig *Figure) trunkByShape(rest map[scene.PartID]r3.Vec, h func(scene.PartID) float64) []scene.PartID {
	top := fig.Root
	for _, p := range fig.Parts {
		// Prefer what stands over the root: a raised hand is no head.
		if h(p)-horizontal(rest[p], rest[fig.Root], fig.study.up()) > h(top)-horizontal(rest[top], rest[fig.Root], fig.study.up()) {
			top = p
		}
	}
	var t []scene.PartID
	for p := top; p != scene.NoPart; p = fig.study.Scene.Parts[p].Parent {
		t = append([]scene.PartID{p}, t...)
		if p == fig.Root {
			break
		}
	}
	return t
}

func horizontal(a, b, up r3.Vec) float64 {
	d := r3.Sub(a, b)
	return length(r3.Sub(d, r3.Scale(r3.Dot(d, up), up)))
}

// labelTrunk names the chain from the root up: hips, spine, and the head as the
// last part that has both a parent and something beyond it.
func (fig *Figure) labelTrunk(t []scene.PartID) {
	if len(t) < 3 {
		return
	}
	head := len(t) - 1
	if !fig.study.plans[t[head]].animated {
		head--
	}
	for i, p := range t {
		l := Label{Body: Chest}
		switch {
		case i == 0:
			l.Body = Hips
		case i >= head:
			l.Body = Head
		case i == head-1 && i > 1:
			l.Body = Neck
		}
		fig.labels[p] = l
	}
}

// farthest is the part below c that lies farthest from it at rest.
func (fig *Figure) farthest(c scene.PartID, rest map[scene.PartID]r3.Vec) scene.PartID {
	best, at := c, -1.0
	var walk func(p scene.PartID)
	walk = func(p scene.PartID) {
		if d := distance(rest[p], rest[c]); d > at {
			best, at = p, d
		}
		for _, q := range fig.study.children[p] {
			if fig.has(q) {
				walk(q)
			}
		}
	}
	walk(c)
	return best
}

// depthTo is the number of bones from c down to end.
func (fig *Figure) depthTo(c, end scene.PartID) int {
	n := 0
	for p := end; p != c && p != scene.NoPart; p = fig.study.Scene.Parts[p].Parent {
		n++
	}
	return n
}

// labelLimb gives the limb from c its label and places; what branches off an
// arm's chain beyond its middle are fingers.
func (fig *Figure) labelLimb(c, end scene.PartID, l Label) {
	var line []scene.PartID
	for p := end; p != scene.NoPart; p = fig.study.Scene.Parts[p].Parent {
		line = append([]scene.PartID{p}, line...)
		if p == c {
			break
		}
	}
	branch := len(line)
	for i, p := range line {
		if i > 0 && len(fig.study.children[p]) > 2 {
			branch = i
			break
		}
	}
	var walk func(p scene.PartID, fingers bool)
	walk = func(p scene.PartID, fingers bool) {
		m := l
		if fingers && l.Body == Arm {
			m.Body = Fingers
		}
		fig.labels[p] = m
		for _, q := range fig.study.children[p] {
			if fig.has(q) {
				walk(q, fingers || (branch < len(line) && p == line[branch]))
			}
		}
	}
	walk(c, false)
	if l.Body == Arm || l.Body == Leg {
		fig.placeLimb(line[:min(branch+1, len(line))], l)
	}
}

// placeLimb names the joints of a limb from its end: the last moving joint is
// the hand or foot, before it the forearm or shin, then the upper bone.
func (fig *Figure) placeLimb(line []scene.PartID, l Label) {
	var joints []scene.PartID
	for _, p := range line {
		if fig.study.plans[p].animated {
			joints = append(joints, p)
		}
	}
	places := []Place{End, Lower, Upper, Root}
	if l.Body == Leg && len(joints) >= 4 {
		places = []Place{Toe, End, Lower, Upper}
	}
	for i := range min(len(joints), len(places)) {
		l.Place = places[i]
		fig.labels[joints[len(joints)-1-i]] = l
	}
}
