package designed

import "gonum.org/v1/gonum/spatial/r3"

// Bird holds the indices of a bird's parts.
type Bird struct {
	Root, Body, Neck, Head, Beak, Tail, TailTip int
	Wing, Mid, Outer, WingTip                   Sides
}

// NewBird adds a bird below parent that faces +Z with its wings spread, its
// parts named in the given habit, scaled by k (1: a span of 130 cm).
func NewBird(s *Shot, parent int, root string, n Naming, k float64) *Bird {
	b := &Bird{Root: s.Add(parent, Part{Name: root})}
	add := func(up int, word string, x, y, z float64) int {
		return s.Add(up, Part{Name: n(word, Middle), Offset: r3.Scale(k, r3.Vec{X: x, Y: y, Z: z})})
	}
	b.Body = add(b.Root, "torso", 0, 0, 0)
	b.Neck = add(b.Body, "neck", 0, 3, 16)
	b.Head = add(b.Neck, "head", 0, 4, 7)
	b.Beak = add(b.Head, "head_tip", 0, 0, 9)
	b.Tail = add(b.Body, "tail", 0, 0, -14)
	b.TailTip = add(b.Tail, "tail_tip", 0, -1, -13)
	s.Parts[b.Beak].Kind, s.Parts[b.TailTip].Kind = Tip, Tip
	for i := range 2 {
		out := 1 - 2*float64(i)
		side := func(up int, word string, x, y, z float64) int {
			return s.Add(up, Part{Name: n(word, Side(i)), Offset: r3.Scale(k, r3.Vec{X: x * out, Y: y, Z: z})})
		}
		b.Wing[i] = side(b.Body, "wing", 5, 3, 4)
		b.Mid[i] = side(b.Wing[i], "wing_mid", 20, 0, 3)
		b.Outer[i] = side(b.Mid[i], "wing_outer", 22, 0, -5)
		b.WingTip[i] = side(b.Outer[i], "wing_tip", 19, 0, -6)
		s.Parts[b.WingTip[i]].Kind = Tip
	}
	s.Figures = append(s.Figures, Figure{Name: root, Root: b.Root})
	return b
}

// Fly makes the bird beat its wings every period seconds, the joints out along
// the wing each a little later than the one before, the body rising on the
// downstroke, the head held against it and the tail after it.
func (b *Bird) Fly(s *Shot, period float64, seed Seed) {
	gust := Add(Still(1), Drift(seed, 0.12))
	beat := func(size, late, period float64) Signal {
		w := Wave(size, period, 0)
		return func(t float64) float64 { return gust(t) * w(t-late) }
	}
	for i := range 2 {
		out := 1 - 2*float64(i)
		k, lag := out*(1-0.08*float64(i)), period*0.012*float64(i)
		s.Ease(b.Wing[i], Z, Add(beat(27*k, lag, period), Still(6*out), Drift(seed+Seed(i), 2)))
		s.Ease(b.Mid[i], Z, Add(beat(15*k, period*0.13+lag, period), Still(-4*out)))
		s.Ease(b.Outer[i], Z, Add(beat(17*k, period*0.26+lag, period), Still(-7*out)))
		s.Ease(b.Wing[i], Y, beat(7*k, period*0.2+lag, period))
	}
	s.Shift(b.Body, Y, beat(-2.2, period*0.21, period))
	s.Ease(b.Body, X, Add(beat(2.5, period*0.33, period), Drift(seed+5, 2)))
	s.Ease(b.Neck, X, Add(beat(-2.2, period*0.40, period), Drift(seed+6, 3)))
	s.Ease(b.Head, X, Add(beat(-1.4, period*0.48, period), Drift(seed+7, 3)))
	s.Ease(b.Tail, X, Add(beat(5, period*0.58, period), Drift(seed+8, 3)))
}

// addGull flies a gull past the ferry, slower into the wind and faster out of
// it.
func addGull(s *Shot) {
	b := NewBird(s, -1, "Gull", Snake, 1)
	root := &s.Parts[b.Root]
	root.Offset = r3.Vec{X: 430, Y: 228, Z: 170}
	along := Add(func(t float64) float64 { return 62 * t }, Wave(34, 3.1, 0.2), Drift(31, 9))
	root.Move = [3]Signal{X: Times(-0.35, along), Y: Add(Wave(16, 4.4, 0.35), Drift(32, 5)), Z: along}
	root.Turn = [3]Signal{X: Add(Still(-4), Wave(5, 4.4, 0.1)), Y: Add(Still(-19), Drift(33, 5)), Z: Add(Still(-7), Drift(34, 6))}
	b.Fly(s, 0.5, 41)
}
