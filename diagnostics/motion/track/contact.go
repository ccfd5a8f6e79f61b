package track

import (
	"cmp"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion/clip"
	"curvelint/diagnostics/motion/vec"
)

// A point touches what lies below it near its lowest height or a floor, from
// when it is slow until it is fast.
const (
	FootReach      = 0.03 // figure sizes above the lowest height
	footLow        = 0.05 // the quantile of a foot's heights that is its lowest
	floorReach     = 0.02 // figure sizes above a floor or carrier
	plantShare     = 0.10 // of the busy speed, below which a contact begins
	plantSpeed     = 0.05 // figure sizes per second, the same
	liftShare      = 0.20 // of the busy speed, above which it ends
	liftSpeed      = 0.25
	contactSeconds = 0.12
)

// Contact is a stretch of frames in which a point stays on what is below it;
// First and Last are frame indices, both included.
type Contact struct{ First, Last int }

// Heights returns the track's path along the direction up, of length 1, from
// its first frame on, in the track's unit; one element a frame.
func (t *Track) Heights(up r3.Vec) []float64 {
	h := make([]float64, t.Len())
	for i := range h {
		h[i] = up.X*t.X[i] + up.Y*t.Y[i] + up.Z*t.Z[i]
	}
	return h
}

// LowestHeight returns the height that a foot is seldom under: the 5th percentile
// of its heights.
func (t *Track) LowestHeight(up r3.Vec) float64 { return Percentile(t.Heights(up), footLow) }

// FootContacts returns the contacts of a foot point, whose track is relative to
// what carries the figure: within 3 % of figure size of the 5th percentile of
// its heights, or below. up has length 1.
func (t *Track) FootContacts(up r3.Vec) []Contact {
	h := t.Heights(up)
	return t.contacts(h, Percentile(h, footLow)+FootReach)
}

// FloorContacts returns the contacts of a point with a floor: within 2 % of
// figure size of it, or below. floor is its height above the track's first
// position, in the track's unit; up has length 1.
func (t *Track) FloorContacts(up r3.Vec, floor float64) []Contact {
	return t.contacts(t.Heights(up), floor+floorReach)
}

// contacts returns the stretches, in order, in which the point is not higher
// than level and slow: they begin when its speed falls to
//
//	max(0.1 busy, 0.05), busy the 95th percentile of the speeds above noise
//
// units per second, end when it exceeds max(0.2 busy, 0.25), and last at least
// 0.12 s. height has one element a frame, in the track's unit; other lengths
// give no contacts.
func (t *Track) contacts(height []float64, level float64) []Contact {
	v := t.Speed()
	if len(height) != t.Len() || len(v) == 0 {
		return nil
	}
	busy := t.MotionLimits().Busy
	plant, lift := max(plantShare*busy, plantSpeed), max(liftShare*busy, liftSpeed)
	least := clip.Window(t.Rate, contactSeconds)
	var out []Contact
	first, down := 0, false
	end := func(last int) {
		if down && last-first >= least {
			out = append(out, Contact{first, last})
		}
		down = false
	}
	for i, s := range v {
		switch low := height[i] <= level && height[i+1] <= level; {
		case !low || s > lift:
			end(i)
		case !down && s <= plant:
			first, down = i, true
		}
	}
	end(len(v))
	return out
}

// ContactAt reports whether the frame index lies in one of the contacts, which
// are in order.
func ContactAt(c []Contact, frame int) bool {
	i, _ := slices.BinarySearchFunc(c, frame, func(c Contact, f int) int { return c.Last - f })
	return i < len(c) && c[i].First <= frame
}

// MergeContacts returns the stretches in which any of the points is in contact,
// in order: the contacts of a foot from those of its heel and toe.
func MergeContacts(points ...[]Contact) []Contact {
	all := slices.Concat(points...)
	slices.SortFunc(all, func(a, b Contact) int { return a.First - b.First })
	out := all[:0]
	for _, c := range all {
		if n := len(out); n > 0 && c.First <= out[n-1].Last {
			out[n-1].Last = max(out[n-1].Last, c.Last)
			continue
		}
		out = append(out, c)
	}
	return out
}

// locomotionSteps is how often contacts must pass from one foot to another.
const locomotionSteps = 3

// Locomotion reports whether the figure walks or runs: in the order in which
// the contacts of its feet begin, they pass from one foot to another at least
// three times, each time when the first has stood for half of its contact or
// longer. (Two feet that land a frame apart, as in a jump, take no step.) Each
// element holds the contacts of one foot, in order.
func Locomotion(feet ...[]Contact) bool {
	type step struct {
		Contact
		foot int
	}
	var steps []step
	for f, contacts := range feet {
		for _, c := range contacts {
			steps = append(steps, step{c, f})
		}
	}
	slices.SortFunc(steps, func(a, b step) int {
		return cmp.Or(a.First-b.First, a.foot-b.foot)
	})
	const both = -1
	n := 0
	for i := 1; i < len(steps); i++ {
		a, b := &steps[i-1], &steps[i]
		switch {
		case a.foot == b.foot:
		case 2*b.First < a.First+a.Last:
			b.foot = both
		case a.foot != both:
			n++
		}
	}
	return n >= locomotionSteps
}

// Slip is how far a point moves while it is in contact.
type Slip struct {
	First, Last int     // the frames it is measured between
	Net         float64 // across the floor, in the track's unit
}

// Slip returns the net way across the floor in a contact, without its first
// 1/24 s and its last 2/24 s: a foot lands and rolls off there. up has length 1.
// A contact that is all landing and rolling does not slip.
func (t *Track) Slip(c Contact, up r3.Vec) Slip {
	w := clip.Window(t.Rate, frameOfFilm)
	s := Slip{First: max(c.First, 0) + w, Last: min(c.Last, t.Len()-1) - 2*w}
	if s.First >= s.Last {
		return Slip{First: s.First, Last: s.First}
	}
	d := r3.Sub(t.At(s.Last), t.At(s.First))
	s.Net = vec.Length(r3.Sub(d, r3.Scale(r3.Dot(d, up), up)))
	return s
}
