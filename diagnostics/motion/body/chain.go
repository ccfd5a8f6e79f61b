package body

import (
	"slices"

	"curvelint/parse/scene"
)

// Chain is a run of parts, each the parent of the next (others may stand
// between), that should bend and follow through from its root to its tip.
type Chain struct {
	Name  string
	Parts []scene.PartID
	// Flexible is true for what hangs on a body and should trail behind it: a
	// tail, hair, ears, a rope, a coat.
	Flexible bool
}

// Chains returns the configured chains, else those that labels show: tails,
// hair, ears, ropes and coats; the spine up to the head; each arm from shoulder
// to wrist. Only parts that turn belong to a chain, and a chain has at least
// two.
func (fig *Anatomy) Chains() []Chain {
	var out []Chain
	for _, r := range fig.cast.rules.Chains {
		var parts []scene.PartID
		for _, p := range fig.Parts {
			if r.Match(fig.cast.Scene.Parts[p].Path) && fig.cast.Turns(p) {
				parts = append(parts, p)
			}
		}
		if len(parts) > 1 {
			out = append(out, Chain{Name: r.Name, Parts: parts, Flexible: true})
		}
	}
	if len(out) > 0 {
		return out
	}
	for _, tip := range fig.Parts {
		if fig.cast.Turns(tip) && !fig.chainGoesOn(tip) {
			if c, ok := fig.chainTo(tip); ok {
				out = append(out, c)
			}
		}
	}
	return out
}

// chainKind groups labels that follow each other along one chain; "" for none.
func chainKind(l Label) string {
	switch l.Body {
	case Tail, Hair, Ears, Rope, Coat, Strand:
		return l.GroupName() + l.Side.String()
	case Chest, Neck, Head:
		return "spine"
	case Arm:
		return l.GroupName()
	}
	return ""
}

// chainGoesOn reports whether a turning part of the same chain hangs below p.
func (fig *Anatomy) chainGoesOn(p scene.PartID) bool {
	kind := chainKind(fig.labels[p])
	for _, c := range fig.cast.Children(p) {
		if fig.Holds(c) && chainKind(fig.labels[c]) == kind && (fig.cast.Turns(c) || fig.chainGoesOn(c)) {
			return true
		}
	}
	return false
}

// chainTo collects the turning parts of one chain from its tip up.
func (fig *Anatomy) chainTo(tip scene.PartID) (Chain, bool) {
	l := fig.labels[tip]
	kind := chainKind(l)
	if kind == "" || (l.Body == Chest) {
		return Chain{}, false
	}
	var parts []scene.PartID
	for p := tip; p != scene.NoPart && fig.Holds(p) && chainKind(fig.labels[p]) == kind; p = fig.cast.Scene.Parts[p].Parent {
		if fig.cast.Turns(p) {
			parts = append(parts, p)
		}
	}
	if len(parts) < 2 {
		return Chain{}, false
	}
	slices.Reverse(parts)
	c := Chain{Name: kind, Parts: parts}
	switch l.Body {
	case Tail, Hair, Ears, Rope, Coat, Strand:
		c.Name, c.Flexible = fig.groupOf[tip].Name, true
	}
	return c, true
}

// TipOf returns the tracked point of the chain's end: the point that sits on
// its last part or below it, or -1.
func (fig *Anatomy) TipOf(c Chain) int {
	last := c.Parts[len(c.Parts)-1]
	best := -1
	for i, p := range fig.Points {
		if p.Part == last {
			return i
		}
		if best < 0 && fig.cast.IsAncestor(last, p.Part) {
			best = i
		}
	}
	return best
}
