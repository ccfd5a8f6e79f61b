package scene

import (
	"math"
	"slices"
)

// Timeline collects the key times of the curves of a file that counts in
// seconds, and turns them into frames. Curves with the same times share one
// column. Add all columns first, then ask. The zero value is ready for use.
type Timeline struct {
	columns [][]float64
	frames  [][]float64
	byHash  map[uint64][]int
	rate    float64
}

// Add enters the times of a curve in seconds and returns the number of their
// column. The timeline keeps the slice.
func (t *Timeline) Add(seconds []float64) int {
	if last := len(t.columns) - 1; last >= 0 && sameSlice(t.columns[last], seconds) {
		return last // as in files where curves share their times
	}
	sum := hashTimes(seconds)
	for _, i := range t.byHash[sum] {
		if sameTimes(t.columns[i], seconds) {
			return i
		}
	}
	if t.byHash == nil {
		t.byHash = make(map[uint64][]int)
	}
	t.byHash[sum] = append(t.byHash[sum], len(t.columns))
	t.columns = append(t.columns, seconds)
	return len(t.columns) - 1
}

// Seconds returns a column as it was entered first.
func (t *Timeline) Seconds(column int) []float64 { return t.columns[column] }

// Rate returns the frames per second of all columns, as InferRate has it, and
// uses them for Frames. A fixed rate above 0 is taken instead.
func (t *Timeline) Rate(fixed float64) (rate float64, known bool) {
	rate, known = InferRate(t.columns...)
	if fixed > 0 {
		rate, known = fixed, true
	}
	t.rate, t.frames = rate, make([][]float64, len(t.columns))
	return rate, known
}

// Frames returns a column in frames of the rate that Rate gave last. Each
// column is made once; its curves share it.
func (t *Timeline) Frames(column int) []float64 {
	if t.frames[column] == nil {
		t.frames[column] = ToFrames(t.columns[column], t.rate)
	}
	return t.frames[column]
}

// hashTimes mixes the bits of a column (FNV-1a over words).
func hashTimes(times []float64) uint64 {
	h := uint64(14695981039346656037) ^ uint64(len(times))
	for _, t := range times {
		h = (h ^ math.Float64bits(t)) * 1099511628211
	}
	return h
}

func sameTimes(a, b []float64) bool {
	return sameSlice(a, b) || slices.Equal(a, b)
}

// sameSlice reports whether a and b are the same numbers at the same place.
func sameSlice(a, b []float64) bool {
	return len(a) == len(b) && (len(a) == 0 || &a[0] == &b[0])
}
