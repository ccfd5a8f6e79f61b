package noise

import (
	"math"

	"curvelint/parse/scene"
)

// idleKeys marks keys whose removal changes the curve by no more than limit,
// taking them out one after the other: each is judged with those already marked
// gone. A segment counts from key to key, by held or straight lines or with the
// handles that the keys beside it have. It takes linear time.
func idleKeys(k *scene.Curve, limit float64) []bool {
	n := k.Len()
	idle := make([]bool, n)
	if n < 3 || k.PreValues != nil || limit == 0 {
		return idle
	}
	r := idleRun{k: k, limit: limit}
	r.start(0)
	for i := 1; i+1 < n; i++ {
		if idle[i] = r.removes(i); !idle[i] {
			r.start(i)
		}
	}
	return idle
}

// idleRun is a run of keys that can go, from a key that stays. It keeps what the
// keys of the run allow, so that none is looked at again for the next.
type idleRun struct {
	k     *scene.Curve
	limit float64
	from  int // the key that stays
	how   scene.Interp
	// Straight lines from the key that stay within the limit at all keys of the
	// run have slopes from lo to hi.
	lo, hi float64
	looked int // how often at a key, for tests
}

// start begins anew at a key that stays.
func (r *idleRun) start(a int) {
	r.from, r.how, r.lo, r.hi = a, r.k.SegmentInterp(a), math.Inf(-1), math.Inf(1)
}

// removes reports whether all keys from the start up to key i could go, given
// that key i+1 stays. It must be asked about one key after the other, up to the
// first that must stay.
func (r *idleRun) removes(i int) bool {
	if r.k.SegmentInterp(i) != r.how {
		return false
	}
	switch r.how {
	case scene.Blank:
		return false
	case scene.Linear:
		r.passBy(i)
		m := r.slope(i+1, 0)
		return !(m < r.lo || m > r.hi)
	case scene.Bezier:
		return r.k.Handles != nil && sameSpline(r.k, r.from, i+1, r.limit)
	}
	return r.near(i)
}

// slope is that of the line from the start to a point above key j by off.
func (r *idleRun) slope(j int, off float64) float64 {
	k := r.k
	r.looked++
	return (k.Value(j) - k.Value(r.from) + off) / (k.Times[j] - k.Times[r.from])
}

// passBy takes from the lines those that miss key j.
func (r *idleRun) passBy(j int) {
	if m := r.slope(j, -r.limit*idleKeyTie.Value); m > r.lo {
		r.lo = m
	}
	if m := r.slope(j, r.limit*idleKeyTie.Value); m < r.hi {
		r.hi = m
	}
}

// near reports whether key j has the value of the start.
func (r *idleRun) near(j int) bool {
	r.looked++
	return !(math.Abs(r.k.Value(j)-r.k.Value(r.from)) > r.limit*idleKeyTie.Value)
}
