package track

import (
	"math/rand/v2"
	"slices"
	"testing"
)

// Whether a track moves is the same step by step, word by word and on the way to
// its spacing, for any length.
func TestMovedSteps(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	for n := range 200 {
		x, move := make([]float64, n), 0.2+0.8*r.Float64()
		want := make([]bool, max(n-1, 0))
		for i := 1; i < n; i++ {
			x[i] = x[i-1]
			if want[i-1] = r.Float64() < move || n%10 == 0; want[i-1] {
				x[i]++
			}
		}
		for _, first := range []func(*Track){
			func(*Track) {}, func(k *Track) { k.Stepping() }, func(k *Track) { k.Strokes() }, func(k *Track) { k.Spacing() },
		} {
			k := frames(x...)
			first(k)
			moved := make([]bool, len(want))
			k.movedSteps().addTo(moved)
			if !slices.Equal(moved, want) {
				t.Fatalf("%d frames: moves %v, want %v", n, moved, want)
			}
			alone := frames(x...)
			for i, w := range k.movedSteps() {
				if alone.movesWithin(i) != w {
					t.Fatalf("%d frames: word %d is %b, want %b", n, i, alone.movesWithin(i), w)
				}
			}
			if got := k.movedSteps().allOf(len(want)); got != !slices.Contains(want, false) {
				t.Errorf("%v: all move: %v", want, got)
			}
			if still := Stillness(n, []*Track{k}); slices.ContainsFunc(still, func(b bool) bool { return b }) != slices.Contains(want, false) {
				t.Errorf("still %v, moves %v", still, want)
			}
			if !slices.Equal(k.Spacing(), alone.Spacing()) {
				t.Error("spacing depends on what was asked first")
			}
		}
	}
}

// Changes stand apart where no two steps follow each other, over the ends of
// words too.
func TestSingleChanges(t *testing.T) {
	for _, c := range []struct {
		at      []int
		changes int
		apart   bool
	}{{nil, 0, true}, {[]int{0, 2, 63, 65, 127, 199}, 6, true}, {[]int{5, 63, 64}, 0, false}, {[]int{198, 199}, 0, false}} {
		x := make([]float64, 201)
		for _, at := range c.at {
			for i := at + 1; i < len(x); i++ {
				x[i]++
			}
		}
		still := make([]float64, len(x))
		changes, apart := SingleChanges([]*Track{frames(still...), frames(x...)}, len(x)-1)
		if apart != c.apart || apart && changes != c.changes {
			t.Errorf("changes at %v: %d, apart %v", c.at, changes, apart)
		}
	}
}
