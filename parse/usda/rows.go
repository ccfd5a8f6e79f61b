package usda

import (
	"bytes"
	"math"
	"slices"

	"curvelint/parse/text"
)

// fastRows reads samples in the form in which they are nearly always written,
// without comments and with line ends only between samples, and stops before
// the first that is different.
func (p *parser) fastRows(t valueType, s *sampler, elems *int) {
	src, i := p.src, p.pos
	for i < len(src) {
		for i < len(src) && (src[i] == ' ' || src[i] == '\t' || src[i] == '\n' || src[i] == '\r') {
			i++
		}
		n, vals, spans := len(s.times), len(s.vals), len(s.spans)
		next, ok := s.fastRow(src, i, t, elems)
		if ok && next < len(src) && src[next] == ',' {
			i = next + 1
			continue
		}
		s.times, s.vals, s.spans = s.times[:n], s.vals[:vals], s.spans[:spans]
		break
	}
	p.pos = min(i, len(src))
}

// fastRow reads one sample at offset i.
func (s *sampler) fastRow(src []byte, i int, t valueType, elems *int) (end int, ok bool) {
	if i >= len(src) || src[i] > '9' || src[i] == '+' {
		return i, false
	}
	v, i, ok := text.Float(src, i)
	if !ok || v-v != 0 || i+1 >= len(src) || src[i] != ':' {
		return i, false
	}
	s.times = append(s.times, v)
	i++
	if src[i] == ' ' {
		i++
	}
	s.rowStart = len(s.vals)
	if !t.array {
		return s.fastElement(src, i, t)
	}
	if *elems < 0 || i >= len(src) || src[i] != '[' {
		return i, false
	}
	i++
	if t.cols == 0 && t.rows > 0 && t.base != integer && len(s.decimals) == *elems*t.rows && *elems > 0 {
		if i, ok = s.fastTuples(src, i, *elems, t.rows); !ok {
			return i, false
		}
		return i + 1, i < len(src) && src[i] == ']'
	}
	for e := 0; e < *elems; e++ {
		if e > 0 {
			if i+1 >= len(src) || src[i] != ',' {
				return i, false
			}
			i++
			if src[i] == ' ' {
				i++
			}
		}
		if i, ok = s.fastElement(src, i, t); !ok {
			return i, false
		}
	}
	return i + 1, i < len(src) && src[i] == ']'
}

// fastTuples reads elems tuples of w numbers with a comma between, as fastTuple
// does, into a row like the rows before.
func (s *sampler) fastTuples(src []byte, i, elems, w int) (end int, ok bool) {
	vals, spans := s.room(src, i, elems, w)
	decimals := s.decimals[:len(vals)]
	spanAt := 0
	for k := 0; k < len(vals); {
		if k > 0 {
			if i+1 >= len(src) || src[i] != ',' {
				return i, false
			}
			i++
			if src[i] == ' ' {
				i++
			}
		}
		if i >= len(src) || src[i] != '(' {
			return i, false
		}
		if s.whole {
			spans[spanAt] = uint32(i)
			spanAt++
		}
		for last := k + w - 1; k <= last; k++ {
			i++
			if i < len(src) && src[i] == ' ' {
				i++
			}
			if i >= len(src) || src[i] > '9' || src[i] == '+' {
				return i, false
			}
			v, end, d, ok := text.FloatStep(src, i)
			if !ok || v-v != 0 {
				return i, false
			}
			vals[k] = v
			if int(decimals[k]) < d {
				decimals[k] = int8(min(d, math.MaxInt8))
			}
			if !s.whole {
				spans[k] = uint32(i)
			}
			i = end
			want := byte(',')
			if k == last {
				want = ')'
			}
			if i >= len(src) || src[i] != want {
				return i, false
			}
		}
		i++
	}
	s.vals, s.spans = s.vals[:len(s.vals)+len(vals)], s.spans[:len(s.spans)+len(spans)]
	return i, true
}

// room returns room for the numbers and spans of one more row, which starts
// at src[i]. When more must be made, it is made for as many rows as there are
// lines in the block: memory grows with what is written, once.
func (s *sampler) room(src []byte, i, elems, w int) (vals []float64, spans []uint32) {
	n, m := elems*w, elems
	if !s.whole {
		m = n
	}
	if cap(s.vals)-len(s.vals) < n || cap(s.spans)-len(s.spans) < m {
		end := bytes.IndexByte(src[i:], '}')
		if end < 0 {
			end = len(src) - i
		}
		// A number takes two bytes at least, with what parts it from the next.
		rows := 1 + min(bytes.Count(src[i:i+end], []byte{'\n'}), end/(2*n))
		s.vals, s.spans = slices.Grow(s.vals, rows*n), slices.Grow(s.spans, rows*m)
	}
	a, b := len(s.vals), len(s.spans)
	return s.vals[a : a+n : a+n], s.spans[b : b+m : b+m]
}

// fastElement reads a number, a tuple of numbers or a matrix.
func (s *sampler) fastElement(src []byte, i int, t valueType) (end int, ok bool) {
	if t.rows == 0 {
		return s.fastNumber(src, i, t)
	}
	if s.whole {
		s.spans = append(s.spans, uint32(i))
	}
	if t.cols == 0 {
		return s.fastTuple(src, i, t, t.rows)
	}
	if i >= len(src) || src[i] != '(' {
		return i, false
	}
	for r := 0; r < t.rows; r++ {
		i++
		if i < len(src) && src[i] == ' ' {
			i++
		}
		if i, ok = s.fastTuple(src, i, t, t.cols); !ok {
			return i, false
		}
		if i < len(src) && src[i] == ' ' {
			i++
		}
		want := byte(',')
		if r == t.rows-1 {
			want = ')'
		}
		if i >= len(src) || src[i] != want {
			return i, false
		}
	}
	return i + 1, true
}

// fastTuple reads (a, b, ...) with n numbers.
func (s *sampler) fastTuple(src []byte, i int, t valueType, n int) (end int, ok bool) {
	if i >= len(src) || src[i] != '(' {
		return i, false
	}
	for k := 0; k < n; k++ {
		i++
		if i < len(src) && src[i] == ' ' {
			i++
		}
		if i, ok = s.fastNumber(src, i, t); !ok {
			return i, false
		}
		want := byte(',')
		if k == n-1 {
			want = ')'
		}
		if i >= len(src) || src[i] != want {
			return i, false
		}
	}
	return i + 1, true
}

// fastNumber reads one number. Words, a plus sign and numbers outside the type
// are left to the slow way.
func (s *sampler) fastNumber(src []byte, i int, t valueType) (end int, ok bool) {
	if i >= len(src) || src[i] > '9' || src[i] == '+' {
		return i, false
	}
	v, end, decimals, ok := text.FloatStep(src, i)
	if !ok || v-v != 0 || t.base == integer && (v < t.min || v > t.max) {
		return i, false
	}
	col := len(s.vals) - s.rowStart
	s.vals = append(s.vals, v)
	if !s.whole {
		s.spans = append(s.spans, uint32(i))
	}
	if col < len(s.decimals) {
		if int(s.decimals[col]) < decimals {
			s.decimals[col] = int8(min(decimals, math.MaxInt8))
		}
		return end, true
	}
	s.decimals = append(s.decimals, int8(max(min(decimals, math.MaxInt8), math.MinInt8)))
	return end, true
}
