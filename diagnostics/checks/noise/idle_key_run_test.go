package noise

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"curvelint/parse/scene"
)

// handSet makes a curve with keys every third frame.
func handSet(n int, how scene.Interp, value func(i int) float64) *scene.Curve {
	k := &scene.Curve{Stride: 1, Step: 0.01, Interp: slices.Repeat([]scene.Interp{how}, n)}
	for i := range n {
		k.Times = append(k.Times, float64(3*i))
		k.Values = append(k.Values, math.Round(100*value(i))/100)
	}
	return k
}

// wholeRun judges all keys between two that stay, as the definition says.
func wholeRun(k *scene.Curve, a, b int, limit float64) bool {
	how := k.SegmentInterp(a)
	for j := a + 1; j < b; j++ {
		want := k.Value(a)
		if how == scene.Linear {
			want += (k.Value(b) - k.Value(a)) * (k.Times[j] - k.Times[a]) / (k.Times[b] - k.Times[a])
		}
		if k.SegmentInterp(j) != how || math.Abs(k.Value(j)-want) > limit*idleKeyTie.Value {
			return false
		}
	}
	return how != scene.Blank
}

// Each key is judged as if all before it that can go were gone.
func TestIdleKeysAreThoseOfTheDefinition(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 9))
	for round := range 400 {
		n := 3 + r.IntN(40)
		how := []scene.Interp{scene.Linear, scene.Held, scene.Blank}[round%3]
		at, slope := 0.0, 0.0
		k := handSet(n, how, func(int) float64 {
			if r.IntN(6) == 0 {
				slope = float64(r.IntN(5)-2) * 0.015 // so that halves of a decimal come up
			}
			at += slope
			return at
		})
		limit := k.Step / 2
		want, last := make([]bool, n), 0
		for i := 1; i+1 < n; i++ {
			if want[i] = wholeRun(k, last, i+1, limit); !want[i] {
				last = i
			}
		}
		if got := idleKeys(k, limit); !slices.Equal(got, want) {
			t.Fatalf("round %d: %v\ngot  %v\nwant %v", round, k.Values, got, want)
		}
	}
}

// A run of any length costs few looks at each of its keys.
func TestIdleRunsCostLinearWork(t *testing.T) {
	for _, c := range []struct {
		name  string
		how   scene.Interp
		value func(i int) float64
	}{
		{"a straight line", scene.Linear, func(i int) float64 { return 0.03 * float64(i) }},
		{"a line between the decimals", scene.Linear, func(i int) float64 { return 0.005 * float64(i) }},
		{"steps", scene.Held, func(i int) float64 { return float64(i / 1000) }},
	} {
		const n = 50000
		r := idleRun{k: handSet(n, c.how, c.value), limit: 0.005}
		r.start(0)
		idle := 0
		for i := 1; i+1 < n; i++ {
			if r.removes(i) {
				idle++
			} else {
				r.start(i)
			}
		}
		if r.looked > 4*n || idle < n*9/10 {
			t.Errorf("%s: looked %d times at %d keys, %d are idle", c.name, r.looked, n, idle)
		}
	}
}
