package track

import "math/bits"

// stillEpsilon is the change in track units that double precision arithmetic
// through a hierarchy can make of nothing.
const stillEpsilon = 1e-9

// Stillness returns for each step from frame index i to i+1 (len N-1) whether
// the tracks hold still in it, within their noise.
func Stillness(n int, tracks []*Track) []bool {
	moved := make([]bool, max(n-1, 0))
	for _, t := range tracks {
		t.movedSteps().addTo(moved)
	}
	for i := range moved {
		moved[i] = !moved[i]
	}
	return moved
}

// SingleChanges counts the steps of n in which one of the tracks moves; apart is
// false as soon as two follow each other, as in all that is not blocked.
func SingleChanges(tracks []*Track, n int) (changes int, apart bool) {
	last := uint64(0) // 1 when something moves in the last step before the word
	for i := range (n + 63) / 64 {
		w := uint64(0)
		for _, t := range tracks {
			w |= t.movesWithin(i)
		}
		if w&(w<<1|last) != 0 {
			return changes, false
		}
		changes += bits.OnesCount64(w)
		last = w >> 63
	}
	return changes, true
}
