// Package warp aligns two sequences in time, so that like stands beside like: dynamic
// time warping.
package warp

import "math"

// Alignment says which element of one sequence stands for which of another.
type Alignment struct {
	// Path holds pairs of indices, one into each sequence, from both firsts to
	// both lasts; from pair to pair either or both go on by one.
	Path []Pair
	// Cost is the sum of the distances of all pairs.
	Cost float64
}

// Pair says that element A of the first sequence stands for B of the second.
type Pair struct{ A, B int }

// tableCells is how many cells of the cost table are remembered at a time, one
// byte each. A larger table is halved and its halves solved one after the other,
// in memory linear in the length of the sequences and up to twice the time.
const tableCells = 1 << 22

// Align returns the alignment of two sequences with the least cost
//
//	cost = sum over the path of |a[i] - b[j]|
//
// by dynamic time warping with steps (1,1), (1,0) and (0,1) of equal weight.
// Sequences are columns: a[d][i] is coordinate d of element i; |.| is Euclid's
// distance. Of paths of equal cost one that goes on in both is preferred.
//
// The path stays within band elements of b around the straight line from first
// to last pair (at least as many as connect it); a negative band does not limit
// it. Time is proportional to the length of a times the width of the band, or
// times the length of b without one.
//
// Special cases are:
//   - No path and cost 0 when either sequence is empty.
//   - Align panics when a and b have different numbers of columns, or columns
//     of one sequence different lengths.
//
// H. Sakoe, S. Chiba, "Dynamic programming algorithm optimization for spoken word
// recognition", IEEE Transactions on Acoustics, Speech and Signal Processing 26
// (1978), pages 43-49, for the band; D. S. Hirschberg, "A linear space algorithm
// for computing maximal common subsequences", Communications of the ACM 18
// (1975), pages 341-343, for the halving.
func Align(a, b [][]float64, band int) Alignment {
	w := newWarper(a, b, band, tableCells)
	if w == nil {
		return Alignment{}
	}
	w.path = make([]Pair, 0, w.n+w.m)
	w.solve(0, w.n-1, 0, w.m-1)
	out := Alignment{Path: w.path}
	for _, p := range w.path {
		out.Cost += w.distance(p.A, p.B)
	}
	return out
}

// warper aligns two sequences of n and m elements.
type warper struct {
	a, b     [][]float64
	n, m     int
	slope    float64 // elements of b for one of a
	reach    float64 // of the band on either side; Inf without one
	cells    int
	path     []Pair
	rows     [2][]float64 // costs, indexed by column
	forwards []float64
}

// newWarper returns nil when either sequence is empty.
func newWarper(a, b [][]float64, band, cells int) *warper {
	if len(a) != len(b) {
		panic("warp: sequences of different dimensions")
	}
	w := &warper{a: a, b: b, cells: cells}
	for d := range a {
		if len(a[d]) != len(a[0]) || len(b[d]) != len(b[0]) {
			panic("warp: columns of different lengths")
		}
		w.n, w.m = len(a[d]), len(b[d])
	}
	if w.n == 0 || w.m == 0 {
		return nil
	}
	w.reach = math.Inf(1)
	if w.n > 1 {
		w.slope = float64(w.m-1) / float64(w.n-1)
		if band >= 0 {
			// Every row needs a cell, and must begin no later than one past the
			// end of the row before.
			w.reach = max(float64(band), w.slope/2, 0.5)
		}
	}
	for i := range w.rows {
		w.rows[i] = make([]float64, w.m)
	}
	return w
}

// span returns the first and last column of row i inside the band and between
// columns lo and hi; last < first when there is none.
func (w *warper) span(i, lo, hi int) (first, last int) {
	if math.IsInf(w.reach, 1) {
		return lo, hi
	}
	mid := float64(i) * w.slope
	return max(lo, int(math.Ceil(mid-w.reach-1e-9))), min(hi, int(math.Floor(mid+w.reach+1e-9)))
}

func (w *warper) distance(i, j int) float64 {
	sum := 0.0
	for d, c := range w.a {
		x := c[i] - w.b[d][j]
		sum += x * x
	}
	return math.Sqrt(sum)
}

// The ways into a cell of the table.
const (
	alongBoth byte = iota
	alongA
	alongB
)
