package warp

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// The worked example of M. Mueller, "Fundamentals of Music Processing" (2015),
// chapter 3, from memory; its accumulated costs were worked out again by hand.
var (
	workedA = [][]float64{{1, 3, 9, 2, 1}}
	workedB = [][]float64{{2, 0, 0, 8, 7, 2}}
)

// sampled takes 24 samples of f in each of so many seconds, and the last.
func sampled(seconds int, f func(s float64) float64) []float64 {
	x := make([]float64, 24*seconds+1)
	for i := range x {
		x[i] = f(float64(i) / 24)
	}
	return x
}

// cost is what the best path costs, without the path.
func cost(a, b [][]float64, band int) float64 {
	w := newWarper(a, b, band, tableCells)
	if w == nil {
		return 0
	}
	return w.forward(0, w.n-1, 0, w.m-1, nil)[w.m-1]
}

func TestAlignWorkedExample(t *testing.T) {
	got := Align(workedA, workedB, -1)
	want := []Pair{{0, 0}, {0, 1}, {1, 2}, {2, 3}, {2, 4}, {3, 5}, {4, 5}}
	if got.Cost != 9 || !slices.Equal(got.Path, want) {
		t.Errorf("cost %g, path %v; want 9, %v", got.Cost, got.Path, want)
	}
	if c := cost(workedA, workedB, -1); c != 9 {
		t.Errorf("cost alone %g, want 9", c)
	}
}

func TestAlignOfEqualAndShifted(t *testing.T) {
	move := func(s float64) float64 { // of length one from 0.5 to 1.5 s
		s = min(max(s-0.5, 0), 1)
		return s * s * s * (10 - 15*s + 6*s*s)
	}
	a, b := sampled(3, move), sampled(3, func(s float64) float64 { return move(s - 0.25) })
	if w := Align([][]float64{a}, [][]float64{a}, -1); w.Cost != 0 || len(w.Path) != len(a) || w.Path[40] != (Pair{40, 40}) {
		t.Errorf("a sequence with itself: cost %g over %d pairs", w.Cost, len(w.Path))
	}
	w := Align([][]float64{a}, [][]float64{b}, 12)
	if w.Cost > 1e-9 {
		t.Errorf("a shifted sequence: cost %g", w.Cost)
	}
	for _, p := range w.Path {
		if p.A > 16 && p.A < 32 && p.B != p.A+6 {
			t.Errorf("frame %d stands for %d, want %d", p.A, p.B, p.A+6)
		}
	}
	// A band of three frames cannot reach over six.
	if c := cost([][]float64{a}, [][]float64{b}, 3); c < 0.5 {
		t.Errorf("cost %g within a band too narrow", c)
	}
}

func TestAlignOfNothing(t *testing.T) {
	for _, c := range [][2][][]float64{{nil, nil}, {{{}}, {{1, 2}}}, {{{1}}, {{}}}} {
		if w := Align(c[0], c[1], 4); len(w.Path) != 0 || w.Cost != 0 || cost(c[0], c[1], 4) != 0 {
			t.Errorf("%v: %+v", c, w)
		}
	}
	for name, f := range map[string]func(){
		"dimensions": func() { Align([][]float64{{1}}, [][]float64{{1}, {2}}, 0) },
		"lengths":    func() { Align([][]float64{{1}, {1, 2}}, [][]float64{{1}, {2}}, 0) },
	} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("different %s: no panic", name)
				}
			}()
			f()
		}()
	}
}

// Whatever the band and however the table is halved, the path is a path inside
// the band and no worse than the best.
func TestAlignPaths(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	noise := func(n, dims int) [][]float64 {
		c := make([][]float64, dims)
		for d := range c {
			c[d] = make([]float64, n)
			for i := range c[d] {
				c[d][i] = math.Floor(8 * r.Float64())
			}
		}
		return c
	}
	for range 400 {
		n, m, dims, band := 1+r.IntN(40), 1+r.IntN(40), 1+r.IntN(3), r.IntN(12)-2
		a, b := noise(n, dims), noise(m, dims)
		want := cost(a, b, band)
		for _, cells := range []int{tableCells, 50, 1} {
			w := newWarper(a, b, band, cells)
			w.solve(0, n-1, 0, m-1)
			checkWarp(t, w, want)
		}
	}
}

func checkWarp(t *testing.T, w *warper, want float64) {
	t.Helper()
	p, cost := w.path, 0.0
	if len(p) == 0 || p[0] != (Pair{}) || p[len(p)-1] != (Pair{w.n - 1, w.m - 1}) {
		t.Fatalf("path %v does not join the ends of %d and %d", p, w.n, w.m)
	}
	for i, q := range p {
		cost += w.distance(q.A, q.B)
		if first, last := w.span(q.A, 0, w.m-1); q.B < first || q.B > last {
			t.Fatalf("pair %v outside the band %d to %d", q, first, last)
		}
		if i == 0 {
			continue
		}
		if da, db := q.A-p[i-1].A, q.B-p[i-1].B; da < 0 || db < 0 || da > 1 || db > 1 || da+db == 0 {
			t.Fatalf("step from %v to %v", p[i-1], q)
		}
	}
	if math.Abs(cost-want) > 1e-9 {
		t.Fatalf("%d by %d, %d cells at a time: cost %g, want %g", w.n, w.m, w.cells, cost, want)
	}
}

// A memory of a few cells costs about twice the time of a full table.
func BenchmarkAlign(b *testing.B) {
	k := sampled(60, func(s float64) float64 { return math.Sin(s) + 0.2*math.Sin(5*s) })
	x := [][]float64{k, make([]float64, len(k)), make([]float64, len(k))}
	for _, c := range []struct {
		name        string
		band, cells int
	}{{"table", -1, tableCells}, {"halved", -1, 1 << 14}, {"band", 24, tableCells}} {
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				w := newWarper(x, x, c.band, c.cells)
				w.solve(0, w.n-1, 0, w.m-1)
			}
		})
	}
}
