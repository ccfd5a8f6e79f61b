package body_test

import (
	"fmt"
	"math"
	"testing"

	"curvelint/diagnostics/motion/body"
	"curvelint/diagnostics/motion/solve"
	"curvelint/parse/scene"
)

// nameless builds a scene of n parts without names that all turn; parent gives
// the parent of each.
func nameless(n int, parent func(i int) int, at func(i int) [3]float64) *scene.Scene {
	sc := &scene.Scene{Format: "bvh", Rate: 24, First: 1, Last: 3, RangeKnown: true, DefaultCamera: scene.NoPart}
	for i := range n {
		up := scene.NoPart
		if i > 0 {
			up = scene.PartID(parent(i))
		}
		o := at(i)
		name := fmt.Sprintf("joint%d", i)
		sc.Parts = append(sc.Parts, scene.Part{ID: scene.PartID(i), Parent: up, Name: name, Path: "/" + name, Kind: scene.Joint, Figure: i == 0,
			Ops: []scene.Op{{Kind: scene.Translate, Value: o[:]}, {Kind: scene.RotateX, Value: []float64{0}}}})
		sc.Channels = append(sc.Channels, scene.Channel{Part: scene.PartID(i), Op: 1, Name: "x", Quantity: scene.Angle,
			Curve: scene.Curve{Times: []float64{1, 2, 3}, Values: []float64{0, 10, 5}, Stride: 1}})
	}
	return sc
}

// Figures of any shape are grouped: long chains, stars, combs, places that are
// no numbers or all the same.
func TestShapesOfAnyKind(t *testing.T) {
	step := func(int) [3]float64 { return [3]float64{0, 1, 0} }
	spread := func(i int) [3]float64 { return [3]float64{math.Sin(float64(i)), math.Cos(float64(i)), 0.1} }
	const n = 2000
	for name, sc := range map[string]*scene.Scene{
		"chain":       nameless(n, func(i int) int { return i - 1 }, step),
		"star":        nameless(n, func(int) int { return 0 }, spread),
		"comb":        nameless(n, func(i int) int { return i - 1 - i%2 }, spread),
		"tree":        nameless(n, func(i int) int { return (i - 1) / 2 }, spread),
		"one place":   nameless(300, func(i int) int { return (i - 1) / 2 }, func(int) [3]float64 { return [3]float64{} }),
		"no numbers":  nameless(300, func(i int) int { return (i - 1) / 2 }, func(int) [3]float64 { return [3]float64{math.NaN(), 1, 0} }),
		"no end":      nameless(300, func(i int) int { return (i - 1) / 2 }, func(int) [3]float64 { return [3]float64{math.Inf(1), 1, 0} }),
		"no shape":    nameless(1, nil, step),
		"two of them": nameless(2, func(int) int { return 0 }, step),
	} {
		for _, fig := range body.NewCast(solve.New(sc), body.Rules{}).Anatomies() {
			fig.Chains()
			fig.Limbs()
			if len(fig.Parts) == 0 {
				t.Errorf("%s: a figure without parts", name)
			}
		}
	}
}
