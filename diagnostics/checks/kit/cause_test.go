package kit

import (
	"math/rand/v2"
	"testing"
)

// TestStretches: against looking at every stretch that was taken.
func TestStretches(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	for range 200 {
		var s stretches
		var plain [][2]int
		for range 60 {
			first := r.IntN(120)
			last := first + r.IntN(9)
			free := true
			for _, x := range plain {
				free = free && (min(x[1], last) < max(x[0], first))
			}
			if free {
				plain = append(plain, [2]int{first, last})
			}
			now, ok := s.With(first, last)
			if ok != free {
				t.Fatalf("%d-%d into %v: %v, want %v", first, last, s, ok, free)
			}
			s = now
		}
	}
}
