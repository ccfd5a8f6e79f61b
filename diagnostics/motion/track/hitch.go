package track

import (
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion/clip"
	"curvelint/diagnostics/motion/vec"
)

// A hitch is a short dip of speed within a move that keeps its direction.
const (
	hitchShare    = 0.60 // of both neighbouring peaks
	hitchSeconds  = 0.33 // from peak to peak
	hitchTwins    = 2.0  // the larger peak over the smaller
	hitchCosine   = 0.7071067811865476
	hitchRipple   = 0.80 // a fall below this share of a peak ends the climb to it
	hitchPlateau  = 0.95 // a peak is reached at this share of it
	hitchSlowest  = 0.3  // peak speed in figure sizes per second
	hitchDegrees  = 50.0 // the same in degrees, in the proportion that
	hitchOfRange  = 1.7  // even-spacing's least speeds have
	hitchPeakNear = 3    // plateau frames beyond the window looked at
)

// Hitch is a stutter in a move: a dip of speed to less than 60 % of both peaks
// beside it.
type Hitch struct {
	// First and Last are the frame indices of the positions the dip lies
	// between: its slow spacings are First to Last-1.
	First, Last int
	// Before and After are the spacings of the peaks on either side.
	Before, After int
	// Depth is the lowest speed over the smaller peak, 0 to 0.6.
	Depth float64
}

// Hitches returns the dips of speed that interrupt a move: below 60 % of both
// neighbouring peaks, the peaks in motion and at least 0.3 figure sizes (50
// degrees, 1.7 ranges) per second, within a factor of 2 of each other and at most 0.33 s
// apart, the directions at the peaks less than 45 degrees apart and the motion
// in the dip not against them. A hold in between is no hitch. Speed is that of
// Speed: over 1/24 s.
//
// Callers must not write to the result.
func (t *Track) Hitches() []Hitch {
	t.cutOnce.Do(t.cut)
	return t.hitches
}

func (t *Track) hitchSpeed() float64 {
	switch t.Quality {
	case Rotation:
		return hitchDegrees
	case Value:
		return hitchOfRange
	}
	return hitchSlowest
}

func (t *Track) findHitches(p *profile) []Hitch {
	var out []Hitch
	v := p.speed
	least := max(t.hitchSpeed(), t.limits.Enter) // below is no move to interrupt
	p.borrowed.valleys = appendValleys(p.borrowed.valleys[:0], v, 0, len(v), hitchShare, least)
	for _, w := range p.borrowed.valleys {
		if h, ok := t.hitchAt(v, w, least); ok && !t.holdsStill(h, p.spacing) {
			out = append(out, h)
		}
	}
	return out
}

// hitchAt measures the valley w of speeds v.
func (t *Track) hitchAt(v []float64, w valley, least float64) (Hitch, bool) {
	reach := clip.Window(t.Rate, hitchSeconds)
	before, left := climb(v, w.first, -1, reach)
	h := Hitch{First: w.first, Last: w.last + 1, Before: before}
	if left < least || w.last-before > reach {
		return h, false // whatever lies behind it, as for most
	}
	after, right := climb(v, w.last, 1, reach)
	low, small, large := v[w.first], min(left, right), max(left, right)
	h.After = after
	if small < least || large > hitchTwins*small || low >= hitchShare*small || after-before > reach {
		return h, false
	}
	h.Depth = low / small
	a, b := t.direction(before), t.direction(after)
	dip := t.direction((w.first + w.last) / 2)
	kept := r3.Dot(a, b) >= hitchCosine*vec.Length(a)*vec.Length(b)
	return h, kept && r3.Dot(dip, r3.Add(a, b)) >= 0
}

// holdsStill reports whether the track does not move for the length of a hold
// between the peaks of the hitch.
func (t *Track) holdsStill(h Hitch, spacing []float64) bool {
	leave, still := t.limits.Leave, 0
	for _, s := range spacing[h.Before:h.After] {
		if still++; s*t.Rate >= leave {
			still = 0
		}
		if still >= clip.Window(t.Rate, HoldSeconds) {
			return true
		}
	}
	return false
}

// climb walks from the valley at index i in direction by (-1 or 1) up to the
// neighbouring peak, over ripples of less than a fifth of it, and returns where
// the peak is first reached and its height. It looks no farther than reach.
func climb(v []float64, i, by, reach int) (at int, peak float64) {
	end := i
	for n := 0; n < reach+hitchPeakNear; n++ {
		j := end + by
		if j < 0 || j >= len(v) || v[j] < hitchRipple*peak {
			break
		}
		end = j
		peak = max(peak, v[j])
	}
	for at = i; at != end; at += by {
		if v[at] >= hitchPlateau*peak {
			break
		}
	}
	return at, peak
}

// direction returns the step of spacing i, over the window of Speed.
func (t *Track) direction(i int) r3.Vec {
	h := max(0, int(t.speedFrames()/2))
	return r3.Sub(t.At(min(i+1+h, t.Len()-1)), t.At(max(i-h, 0)))
}

// bridged returns v with the dips of the hitches filled up to the smaller of
// their peaks; v itself when there are none.
func bridged(v []float64, hitches []Hitch) []float64 {
	if len(hitches) == 0 {
		return v
	}
	v = slices.Clone(v)
	for _, h := range hitches {
		level := min(v[h.Before], v[h.After])
		for i := h.Before + 1; i < h.After; i++ {
			v[i] = max(v[i], level)
		}
	}
	return v
}
