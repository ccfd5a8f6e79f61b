package track

import "math"

// EvenRun is a run of even spacing: Count spacings from index First on.
type EvenRun struct {
	First, Count int
	Mean         float64 // of the spacings, in their unit
	Evenness     float64 // (max - min) / mean of the spacings
}

// evenTries is how many starts of a run are tried for each of its ends. A run
// that holds a longer one which is not even is rare and misses by little.
const evenTries = 64

// evenRuns appends to dst the maximal runs of at least count spacings whose
// evenness is at most limit, in order of their first spacing, and returns the
// extended slice. No run holds another, but runs may overlap where speed
// changes slowly. A spacing of at most least (20 times the noise; 0 for none)
// belongs to no run.
//
//	(max - min) / mean <= limit
//
// Each end costs amortised constant time: two queues hold the candidates for
// the largest and smallest spacing of a window that only moves on.
//
// Special cases are:
//   - No runs for a negative limit.
//   - NaN and infinite spacings belong to no run.
func evenRuns(dst []EvenRun, spacings []float64, limit, least float64, count int) []EvenRun {
	if limit < 0 {
		return dst
	}
	f := evenFinder{limit: limit, count: max(count, 1), kept: len(dst)}
	least = max(least, 0)
	counts := func(v float64) bool { return v > least && v <= math.MaxFloat64 }
	for a := 0; a < len(spacings); {
		if !counts(spacings[a]) {
			a++
			continue
		}
		b := a + 1
		for b < len(spacings) && counts(spacings[b]) {
			b++
		}
		f.v, f.offset = spacings[a:b], a
		dst = f.run(dst)
		a = b
	}
	return dst
}

// LongestEvenRun returns the longest run of evenRuns, the first of equal ones;
// ok is false when there is none.
func LongestEvenRun(spacings []float64, limit, least float64, count int) (run EvenRun, ok bool) {
	for _, r := range evenRuns(nil, spacings, limit, least, count) {
		if r.Count > run.Count {
			run, ok = r, true
		}
	}
	return run, ok
}

// evenFinder finds the even runs of positive spacings v.
type evenFinder struct {
	v           []float64
	offset      int // of v in the spacings asked about
	limit       float64
	count, kept int
	sums        []float64 // sums[i] = sum of v[:i] - v[0] each
	high, low   queue
}

// queue holds indices into v, from head on: its values fall (high) or rise (low).
type queue struct {
	at   []int
	head int
}

func (q *queue) reset() { q.at, q.head = q.at[:0], 0 }

func (q *queue) dropBelow(i int) {
	for q.head < len(q.at) && q.at[q.head] < i {
		q.head++
	}
}

// push appends index i, after dropping what it covers: smaller ones when sign
// is 1, larger ones when it is -1.
func (q *queue) push(v []float64, i int, sign float64) {
	for len(q.at) > q.head && sign*v[q.at[len(q.at)-1]] <= sign*v[i] {
		q.at = q.at[:len(q.at)-1]
	}
	q.at = append(q.at, i)
}

func (f *evenFinder) run(dst []EvenRun) []EvenRun {
	v := f.v
	f.high.reset()
	f.low.reset()
	f.sums = append(f.sums[:0], 0)
	start, open, last := 0, false, EvenRun{}
	for j, x := range v {
		f.sums = append(f.sums, f.sums[j]+(x-v[0]))
		f.high.push(v, j, 1)
		f.low.push(v, j, -1)
		// The mean is at most the largest: beyond limit times that, no run that
		// holds this window is even, and start never comes back.
		for {
			f.high.dropBelow(start)
			f.low.dropBelow(start)
			h := v[f.high.at[f.high.head]]
			if h-v[f.low.at[f.low.head]] <= f.limit*h {
				break
			}
			start++
		}
		r := f.endingAt(j, start)
		if open && r.First > last.First {
			dst = f.keep(dst, last)
		}
		open, last = true, r
	}
	return f.keep(dst, last)
}

// endingAt returns the longest even run that ends at index j and begins at start
// or later.
func (f *evenFinder) endingAt(j, start int) EvenRun {
	h, l := f.high.head, f.low.head
	for i := start; i < min(j, start+evenTries); i++ {
		for f.high.at[h] < i {
			h++
		}
		for f.low.at[l] < i {
			l++
		}
		n := float64(j + 1 - i)
		mean := f.v[0] + (f.sums[j+1]-f.sums[i])/n
		if spread := f.v[f.high.at[h]] - f.v[f.low.at[l]]; mean > 0 && spread <= f.limit*mean { // among spacings of 1e15 small ones can sum to nothing
			return EvenRun{First: i, Count: j + 1 - i, Mean: mean, Evenness: spread / mean}
		}
	}
	return EvenRun{First: j, Count: 1, Mean: f.v[j]}
}

// keep appends the run unless it is too short, without the runs it holds.
func (f *evenFinder) keep(dst []EvenRun, r EvenRun) []EvenRun {
	if r.Count < f.count {
		return dst
	}
	r.First += f.offset
	for len(dst) > f.kept && dst[len(dst)-1].First >= r.First {
		dst = dst[:len(dst)-1]
	}
	return append(dst, r)
}
