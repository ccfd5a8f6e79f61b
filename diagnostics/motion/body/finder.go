package body

import (
	"slices"

	"curvelint/parse/scene"
)

// finder splits the hierarchy into figures.
type finder struct {
	cast  *Cast
	kinds []kindSet
	// declared and carried say of each part whether the file, or a carrier in
	// the configuration, starts a figure somewhere below it.
	declared, carried []bool
	// claimed says of each part which configured figure it belongs to, counted
	// from 1; 0 for none.
	claimed []int32
	found   []*Anatomy
}

func newFinder(c *Cast) *finder {
	n := len(c.Scene.Parts)
	f := &finder{cast: c, kinds: c.subtreeKinds(), declared: make([]bool, n), carried: make([]bool, n), claimed: make([]int32, n)}
	f.claim()
	for p := n - 1; p >= 0; p-- {
		if up := c.Scene.Parts[p].Parent; up != scene.NoPart {
			f.declared[up] = f.declared[up] || f.declared[p] || c.Scene.Parts[p].Figure || f.claimed[p] != f.claimed[up]
			f.carried[up] = f.carried[up] || f.carried[p] || f.startsCarried(scene.PartID(p))
		}
	}
	return f
}

// split looks for figures among the children of node (NoPart: the scene).
func (f *finder) split(node scene.PartID, children []scene.PartID) {
	var moving []scene.PartID
	for _, c := range children {
		if f.cast.Animated(c) && !f.skipped(c) {
			moving = append(moving, c)
		}
	}
	if len(moving) > 1 && f.oneBody(moving) {
		f.add(moving[0], moving)
		return
	}
	bodies, values := f.bodiesAndValues(moving)
	before := len(f.found)
	for _, c := range bodies {
		f.visit(c)
	}
	if len(bodies) == 1 && len(f.found) == before+1 {
		f.found[before].addSubtrees(values)
		return
	}
	for _, c := range values {
		f.visit(c)
	}
}

// bodiesAndValues parts subtrees that move from those of numbers alone: the shape weights
// of a skin that stands beside its skeleton.
func (f *finder) bodiesAndValues(moving []scene.PartID) (bodies, values []scene.PartID) {
	for _, c := range moving {
		if f.onlyValues(c) {
			values = append(values, c)
		} else {
			bodies = append(bodies, c)
		}
	}
	return bodies, values
}

// onlyValues reports whether no part of the subtree at p has a transform that
// changes, nor is declared a figure.
func (f *finder) onlyValues(p scene.PartID) bool {
	if f.cast.Moves(p) || f.cast.Scene.Parts[p].Figure {
		return false
	}
	return !slices.ContainsFunc(f.cast.Children(p), func(c scene.PartID) bool { return !f.onlyValues(c) })
}

// addSubtrees adds subtrees to the figure.
func (fig *Anatomy) addSubtrees(tops []scene.PartID) {
	var walk func(p scene.PartID)
	walk = func(p scene.PartID) {
		fig.Parts = append(fig.Parts, p)
		for _, c := range fig.cast.Children(p) {
			walk(c)
		}
	}
	for _, p := range tops {
		walk(p)
	}
	if len(tops) > 0 {
		slices.Sort(fig.Parts)
	}
}

// visit decides whether the subtree at p is a figure or holds several.
func (f *finder) visit(p scene.PartID) {
	part := &f.cast.Scene.Parts[p]
	children := f.cast.Children(p)
	switch {
	case part.Figure && !(f.cast.Changes(p) && f.carrierByNames(p)):
		f.add(p, []scene.PartID{p})
	case !f.cast.Changes(p):
		f.split(p, children)
	case f.carried[p] || f.declared[p] || f.carrierByNames(p):
		f.addAlone(p)
		for _, c := range children {
			if f.cast.Animated(c) && !f.skipped(c) && (f.declared[c] || f.rides(c) || f.carried[c] || f.startsCarried(c)) {
				f.visit(c)
			}
		}
	default:
		f.add(p, []scene.PartID{p})
	}
}

// skipped are subtrees that are never figures.
func (f *finder) skipped(p scene.PartID) bool {
	return f.cast.noBody(p) || f.claimed[p] != 0
}

// noBody reports whether a part is a camera or a light.
func (c *Cast) noBody(p scene.PartID) bool {
	k := c.Scene.Parts[p].Kind
	return k == scene.CameraPart || k == scene.LightPart
}

// bodyIn reports whether the names below p are those of a body.
func (f *finder) bodyIn(p scene.PartID) bool {
	k := f.kinds[p] & (trunk | appendages)
	return count(k) >= 3 && count(k&trunk) >= 1
}

// vehicles are words for what carries people.
var vehicles = map[string]bool{
	"deck": true, "platform": true, "ship": true, "boat": true, "ferry": true, "raft": true, "barge": true, "cart": true, "wagon": true,
	"carriage": true, "trolley": true, "car": true, "truck": true, "train": true, "tram": true, "bus": true, "lift": true, "elevator": true,
	"sled": true, "sledge": true, "swing": true, "vehicle": true, "floor": true, "ground": true,
}

// isVehicle reports whether a name is that of something to ride on.
func isVehicle(name string) bool {
	for _, w := range Words(name) {
		if vehicles[w] {
			return true
		}
	}
	return false
}

// carrierByNames reports whether p moves but is itself no part of the body it
// carries: several things ride on it, one of them a body, or it is called a deck
// or the like. A body's own master control carries the body alone.
func (f *finder) carrierByNames(p scene.PartID) bool {
	name := f.cast.Scene.Parts[p].Name
	if ReadName(name).Body != NoBody {
		return false
	}
	vehicle := isVehicle(name)
	riders, bodies := 0, 0
	for _, c := range f.cast.Children(p) {
		if f.cast.Scene.Parts[c].Kind == scene.Mesh || f.skipped(c) {
			continue
		}
		if f.rides(c) {
			bodies++
		}
		if f.cast.Animated(c) {
			riders++
		}
	}
	return bodies >= 1 && (vehicle || riders >= 2 && !f.oneBody(f.cast.Children(p)))
}

// namelessBody is from how many moving joints on what rides on a deck is a body
// though its names do not say so; common practice, no source.
const namelessBody = 8

// rides reports whether the subtree at p is a body by its names, or by its moving
// joints when it stands on what is called a deck or the like.
func (f *finder) rides(p scene.PartID) bool {
	up := f.cast.Scene.Parts[p].Parent
	return f.bodyIn(p) || up != scene.NoPart && isVehicle(f.cast.Scene.Parts[up].Name) && f.joints(p, namelessBody) == namelessBody
}

// joints counts the parts at and below p that move, up to most.
func (f *finder) joints(p scene.PartID, most int) int {
	if f.skipped(p) {
		return 0
	}
	n := 0
	if f.cast.Animated(p) {
		n = 1
	}
	for _, c := range f.cast.Children(p) {
		if n >= most {
			return most
		}
		n += f.joints(c, most-n)
	}
	return min(n, most)
}

// startsCarried reports whether the configuration starts a carried figure at p.
func (f *finder) startsCarried(p scene.PartID) bool {
	up := f.cast.Scene.Parts[p].Parent
	c := f.cast.carrierOf(p)
	return c != scene.NoPart && (up == scene.NoPart || f.cast.carrierOf(up) != c) && f.cast.IsAncestor(c, p) && c != p
}

// add makes a figure of whole subtrees. Declared figures nested inside become
// figures of their own.
func (f *finder) add(root scene.PartID, tops []scene.PartID) {
	fig := &Anatomy{cast: f.cast, Root: root, Carrier: scene.NoPart}
	f.found = append(f.found, fig)
	var nested []scene.PartID
	var walk func(p scene.PartID)
	walk = func(p scene.PartID) {
		if f.cast.noBody(p) || f.claimed[p] != f.claimed[root] {
			return
		}
		if f.claimed[root] == 0 && p != root && f.cast.Scene.Parts[p].Figure && f.cast.Animated(p) {
			nested = append(nested, p)
			return
		}
		fig.Parts = append(fig.Parts, p)
		for _, c := range f.cast.Children(p) {
			walk(c)
		}
	}
	for _, p := range tops {
		walk(p)
	}
	slices.Sort(fig.Parts)
	for _, p := range nested {
		f.visit(p)
	}
}

// addAlone makes a figure of a moving part that carries others, with what hangs
// on it and is no body.
func (f *finder) addAlone(p scene.PartID) {
	fig := &Anatomy{cast: f.cast, Root: p, Carrier: scene.NoPart}
	f.found = append(f.found, fig)
	var walk func(q scene.PartID)
	walk = func(q scene.PartID) {
		if f.skipped(q) || (q != p && (f.cast.Scene.Parts[q].Figure || f.declared[q] || f.rides(q) || f.startsCarried(q) || f.carried[q])) {
			return
		}
		fig.Parts = append(fig.Parts, q)
		for _, c := range f.cast.Children(q) {
			walk(c)
		}
	}
	walk(p)
	slices.Sort(fig.Parts)
}
