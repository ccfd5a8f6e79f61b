package body

import "curvelint/parse/scene"

// kindSet is a set of body parts with their sides, one bit each.
type kindSet uint64

func kindBit(l Label) kindSet {
	if l.Body == NoBody {
		return 0
	}
	b := uint(l.Body)
	if l.Side == Right && (l.Body == Arm || l.Body == Leg || l.Body == Wing) {
		b += 32
	}
	return 1 << b
}

// trunk are the kinds that stand at the middle of a body; a subtree with two of
// them is a body rather than something a body carries.
const trunk = kindSet(1<<Hips | 1<<Chest | 1<<Neck | 1<<Head)

// appendages are the kinds that rigs often keep beside the trunk.
const appendages = kindSet(1<<Head | 1<<Mouth | 1<<Brows | 1<<Lids | 1<<Eyes | 1<<Ears |
	1<<Arm | 1<<Leg | 1<<Fingers | 1<<Tail | 1<<Wing | 1<<(Arm+32) | 1<<(Leg+32) | 1<<(Wing+32))

// subtreeKinds says which body parts the names in each subtree speak of.
func (c *Cast) subtreeKinds() []kindSet {
	k := make([]kindSet, len(c.Scene.Parts))
	for p := len(k) - 1; p >= 0; p-- {
		part := &c.Scene.Parts[p]
		k[p] |= kindBit(ReadName(part.Name))
		if part.Parent != scene.NoPart {
			k[part.Parent] |= k[p]
		}
	}
	return k
}

// oneBody reports whether sibling subtrees are pieces of one body kept side by
// side (a trunk, and a face or limbs beside it): none of them declared, at most
// one with a trunk, every other made of appendages that no sibling repeats.
func (f *finder) oneBody(siblings []scene.PartID) bool {
	var seen, alone kindSet
	trunks, named := 0, 0
	for _, c := range siblings {
		if !f.cast.Animated(c) {
			continue
		}
		k := f.kinds[c]
		if k == 0 || k&^legs != 0 && k&seen&^inPairs != 0 || f.cast.Scene.Parts[c].Figure || f.declared[c] {
			return false
		}
		if k&^legs != 0 {
			seen |= k
		} else {
			alone |= k
		}
		named++
		if count(k&trunk) >= 2 {
			trunks++
		} else if k&^(appendages|trunk) != 0 {
			return false
		}
	}
	return named >= 2 && trunks <= 1 && count(seen|alone) >= 3
}

// legs are the kinds of which a body may have more than one of a side.
const legs = kindSet(1<<Leg | 1<<(Leg+32))

// inPairs are the kinds of which a left and a right one may stand side by side.
const inPairs = kindSet(1<<Mouth | 1<<Brows | 1<<Lids | 1<<Eyes | 1<<Ears)

func count(k kindSet) int {
	n := 0
	for ; k != 0; k &= k - 1 {
		n++
	}
	return n
}
