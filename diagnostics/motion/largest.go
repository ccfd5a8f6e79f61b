package motion

import (
	"cmp"
	"math/bits"
	"slices"
)

// largest keeps of strokes that overlap for more than half of the shorter one
// the most prominent. It takes the time of sorting them.
type largest struct {
	frames int // of the study
	all    []GroupStroke
	order  []ranked

	// Kept strokes overlap little, so that no two begin at one frame: begins
	// has a bit for each frame at which one begins, and at says which.
	begins []uint64
	at     []int32
}

// ranked is a stroke's place among all, with what decides about it.
type ranked struct {
	prominence float64
	first, i   int32
}

func (l *largest) add(k GroupStroke, prominence float64) {
	l.order = append(l.order, ranked{prominence, int32(k.Stroke.First), int32(len(l.all))})
	l.all = append(l.all, k)
}

// kept returns the kept strokes by first frame. Of equally prominent ones the
// earlier goes first, then the one that was added first.
func (l *largest) kept() []GroupStroke {
	if len(l.all) == 0 {
		return nil
	}
	slices.SortFunc(l.order, func(a, b ranked) int {
		if c := cmp.Compare(b.prominence, a.prominence); c != 0 {
			return c
		}
		return cmp.Or(cmp.Compare(a.first, b.first), cmp.Compare(a.i, b.i))
	})
	l.begins, l.at = make([]uint64, l.frames/64+1), make([]int32, l.frames)
	n := 0
	for _, r := range l.order {
		if !l.clashes(int(r.first), l.all[r.i].Stroke) {
			l.begins[r.first/64] |= 1 << (r.first % 64)
			l.at[r.first] = r.i
			n++
		}
	}
	out := make([]GroupStroke, 0, n)
	for f := l.next(0); f >= 0; f = l.next(f + 1) {
		out = append(out, l.all[l.at[f]])
	}
	return out
}

// clashes reports whether the stroke that begins at frame f overlaps a kept one
// for more than half of the shorter: only the two before it and the two behind
// come into question.
func (l *largest) clashes(f int, k Stroke) bool {
	before, behind := f-1, f
	for range 2 {
		if before = l.last(before); before >= 0 {
			if l.overlaps(before, k) {
				return true
			}
			before--
		}
		if behind = l.next(behind); behind >= 0 {
			if l.overlaps(behind, k) {
				return true
			}
			behind++
		} else {
			behind = l.frames
		}
	}
	return false
}

func (l *largest) overlaps(f int, k Stroke) bool {
	o := &l.all[l.at[f]].Stroke
	both := min(o.Last, k.Last) - max(o.First, k.First)
	short := min(o.Last-o.First, k.Last-k.First)
	return both > 0 && 2*both > short
}

// next returns the first frame from f on at which a kept stroke begins, or -1.
func (l *largest) next(f int) int {
	w := f / 64
	if f < 0 || w >= len(l.begins) {
		return -1
	}
	b := l.begins[w] >> (f % 64) << (f % 64)
	for b == 0 {
		if w++; w == len(l.begins) {
			return -1
		}
		b = l.begins[w]
	}
	return 64*w + bits.TrailingZeros64(b)
}

// last returns the last frame up to f at which a kept stroke begins, or -1.
func (l *largest) last(f int) int {
	if f < 0 {
		return -1
	}
	w, shift := f/64, 63-f%64
	b := l.begins[w] << shift >> shift
	for b == 0 {
		if w--; w < 0 {
			return -1
		}
		b = l.begins[w]
	}
	return 64*w + 63 - bits.LeadingZeros64(b)
}
