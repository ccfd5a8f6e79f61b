package grid

import (
	"reflect"
	"testing"
)

// fill puts the number 10*r+c, "printed" at offset 100*r+c+1, into every cell
// but those that are holes, row by row.
func fill(g *Grid, holes map[[2]int]bool) {
	line := New(1, g.Cols, g.Cols)
	for r := range g.Rows {
		for c := range g.Cols {
			v, start := float64(10*r+c), uint32(100*r+c+1)
			if holes[[2]int{r, c}] {
				start = 0
				g.Gaps = true
			}
			if g.Sparse() {
				line.Values[c], line.Spans[c] = v, start
			} else {
				g.Values[c*g.Rows+r], g.Spans[c*g.Rows+r] = v, start
			}
		}
		if g.Sparse() {
			g.Append(r, line, g.Cols)
		}
	}
}

func TestCurve(t *testing.T) {
	holes := map[[2]int]bool{{1, 1}: true, {3, 2}: true, {0, 3}: true, {2, 3}: true}
	want := [][]float64{{0, 10, 20, 30}, {1, 21, 31}, {2, 12, 22}, {13, 33}}
	wantTimes := [][]float64{{5, 6, 7, 8}, {5, 7, 8}, {5, 6, 7}, {6, 8}}
	for name, most := range map[string]int{"dense": 16, "sparse": 15} {
		g := New(4, 4, most)
		if g.Sparse() != (name == "sparse") {
			t.Fatalf("%s: sparse %v", name, g.Sparse())
		}
		fill(g, holes)
		if v, start, ok := g.At(2, 1); v != 21 || start != 202 || !ok {
			t.Errorf("%s: row 2, column 1 is %v at %d (%v)", name, v, start, ok)
		}
		for _, at := range [][2]int{{1, 1}, {-1, 0}, {4, 0}} {
			if _, _, ok := g.At(at[0], at[1]); ok {
				t.Errorf("%s: there is a number at %v", name, at)
			}
		}
		times := []float64{5, 6, 7, 8}
		for c := range want {
			curve := g.Curve(c, times)
			if !reflect.DeepEqual(curve.Values, want[c]) || !reflect.DeepEqual(curve.Times, wantTimes[c]) || len(curve.Spans) != len(want[c]) {
				t.Errorf("%s: column %d is %v at %v", name, c, curve.Values, curve.Times)
			}
			for k, v := range curve.Values {
				if int(curve.Spans[k]) != 100*(int(v)/10)+int(v)%10+1 {
					t.Errorf("%s: column %d, key %d at offset %d", name, c, k, curve.Spans[k])
				}
			}
		}
		if !reflect.DeepEqual(times, []float64{5, 6, 7, 8}) {
			t.Errorf("%s: the shared times changed to %v", name, times)
		}
	}
}

func TestDrop(t *testing.T) {
	for name, most := range map[string]int{"dense": 6, "sparse": 5} {
		g := New(3, 2, most)
		fill(g, nil)
		g.Drop(2, 1)
		g.Drop(2, 1)
		times := []float64{1, 2, 3}
		whole, cut := g.Curve(0, times), g.Curve(1, times)
		if whole.Len() != 3 || !reflect.DeepEqual(cut.Values, []float64{1, 11}) {
			t.Errorf("%s: %v and %v", name, whole.Values, cut.Values)
		}
		if !g.Sparse() && (&whole.Times[0] != &times[0] || &cut.Times[0] != &times[0]) {
			t.Errorf("%s: curves that only end early do not share their times", name)
		}
	}
}

// TestNoMemory: a grid that cannot be full takes no memory for its size.
func TestNoMemory(t *testing.T) {
	if g := New(1<<40, 1<<10, 1<<20); !g.Sparse() {
		t.Error("memory was made for 2^50 numbers")
	}
	if g := New(0, 0, 0); g.Sparse() || len(g.Values) != 0 {
		t.Error("an empty grid is not dense and empty")
	}
}
