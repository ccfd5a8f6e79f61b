package usda

import (
	"math"
	"slices"
)

// columns turns the rows of a block into columns of their exact size.
func (p *parser) columns(t valueType, s *sampler, elems int, block extent) *samples {
	out := &samples{block: block, elems: elems, none: slices.Clone(s.none)}
	n := len(s.times)
	if n == 0 || elems == 0 {
		return out
	}
	s.sortRows(t, elems)
	n = len(s.times)
	out.none = slices.Clone(s.none)
	out.times = s.shareTimes()
	w, count := t.width(), elems*t.width()
	if t.asWhole() {
		count = elems
	} else {
		w = 1
	}
	out.cols = make([]column, count)
	values := make([]float64, len(s.vals))
	spans := make([]uint32, len(s.spans))
	for c := range out.cols {
		out.cols[c] = column{
			values: values[c*n*w : (c+1)*n*w : (c+1)*n*w], spans: spans[c*n : (c+1)*n : (c+1)*n],
			stride: w, decimals: s.columnDecimals(c*w, w),
		}
	}
	if t.role == matrix {
		transpose(s.vals, t.rows)
	}
	spread(values, s.vals, n, count, w)
	spread(spans, s.spans, n, count, 1)
	return out
}

// columnDecimals returns the decimals of the finest of w numbers.
func (s *sampler) columnDecimals(first, w int) int8 {
	d := int8(math.MinInt8)
	for c := first; c < first+w && c < len(s.decimals); c++ {
		d = max(d, s.decimals[c])
	}
	return d
}

// spread copies rows of count items of w numbers into columns. It goes in
// blocks of rows, so that what it reads stays in the cache.
func spread[T any](dst, src []T, n, count, w int) {
	const rows = 64
	for from := 0; from < n; from += rows {
		to := min(from+rows, n)
		for c := range count {
			if w == 1 {
				col := dst[c*n : (c+1)*n]
				k := from*count + c
				for i := from; i < to; i++ {
					col[i] = src[k]
					k += count
				}
				continue
			}
			if w == 4 { // rotations, the most of all
				for i := from; i < to; i++ {
					*(*[4]T)(dst[(c*n+i)*4:]) = [4]T(src[(i*count+c)*4:])
				}
				continue
			}
			for i := from; i < to; i++ {
				copy(dst[(c*n+i)*w:(c*n+i+1)*w], src[(i*count+c)*w:])
			}
		}
	}
}

// transpose turns matrices for row vectors, as the format writes them, into
// matrices for column vectors. Smaller matrices than 4 by 4 stay their size.
func transpose(vals []float64, n int) {
	for m := 0; m+n*n <= len(vals); m += n * n {
		for r := range n {
			for c := r + 1; c < n; c++ {
				vals[m+r*n+c], vals[m+c*n+r] = vals[m+c*n+r], vals[m+r*n+c]
			}
		}
	}
}

// shareTimes returns the times of the block in a column of their exact size:
// that of the block before if it is the same.
func (s *sampler) shareTimes() []float64 {
	if !slices.Equal(s.times, s.last) {
		s.last = slices.Clone(s.times)
	}
	return s.last
}

// sortRows puts the rows in the order of their times, if they are not; of two
// rows with one time the later stays.
func (s *sampler) sortRows(t valueType, elems int) {
	ascending := true
	for i := 1; i < len(s.times) && ascending; i++ {
		ascending = s.times[i] > s.times[i-1]
	}
	if ascending {
		return
	}
	order := make([]int, len(s.times))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch {
		case s.times[a] < s.times[b]:
			return -1
		case s.times[a] > s.times[b]:
			return 1
		}
		return 0
	})
	kept := order[:0]
	for i, row := range order {
		if i+1 < len(order) && s.times[order[i+1]] == s.times[row] {
			continue
		}
		kept = append(kept, row)
	}
	none := map[int]bool{}
	for _, i := range s.none {
		none[int(i)] = true
	}
	s.none = s.none[:0]
	for i, row := range kept {
		if none[row] {
			s.none = append(s.none, int32(i))
		}
	}
	w, sw := rowWidth(t, elems), spanWidth(t, elems)
	s.times = permute(s.times, kept, 1)
	s.vals = permute(s.vals, kept, w)
	s.spans = permute(s.spans, kept, sw)
}

// permute returns rows of w items in the given order.
func permute[T any](rows []T, order []int, w int) []T {
	out := make([]T, 0, len(order)*w)
	for _, row := range order {
		out = append(out, rows[row*w:(row+1)*w]...)
	}
	return out
}
