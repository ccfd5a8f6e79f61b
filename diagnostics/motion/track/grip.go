package track

import (
	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion/clip"
	"curvelint/diagnostics/motion/vec"
)

// A hand grips what it stays near and moves with.
const (
	gripReach   = 0.10 // figure sizes
	gripSeconds = 0.5
	gripShare   = 0.20     // relative path over common path, but for the slip
	gripLoose   = 0.30     // the same with the slip
	gripTravel  = 0.05     // figure sizes the two must go together to show a grip
	gripRest    = 2.0 / 24 // seconds the hand keeps its place before and after a slip
	gripSettled = 0.01     // figure sizes of slip that need no such rest
	gripCuts    = 8        // what still moves after so many cuts is no grip
)

// Grip is a stretch of frames in which two points hold together; First and Last
// are frame indices, both included. Lengths are in the first track's unit.
type Grip struct {
	First, Last int
	Common      float64 // path of the middle between the points
	Relative    float64 // path of one point seen from the other
	// Slip is the largest change of their relative position since First.
	Slip float64
	// SlipFirst and SlipLast are the frames in which most of the slip happens:
	// from the last with less than a tenth of it to the first with nine tenths.
	SlipFirst, SlipLast int
}

// Grips returns the stretches in which a, a hand, and b, a prop or the other
// hand, are within 10 % of figure size for at least 0.5 s while the path of one
// seen from the other is less than 20 % of their common path, which is at least
// 5 % of figure size. The frames in which the two come together or part, moving
// against each other by more than that share, belong to no grip.
//
// Both are position tracks in world space over the same frames; the unit is a's.
//
// Positions alone are compared, so that a prop that turns in the hand far from its
// own point shows as a slip. Where b's turns are known, turned gives the path of a
// seen from b as it turns, over the frames first to last, in a's unit: a stretch is
// a grip as well when that is short enough, and the slip is the smaller of the two.
// turned is nil where they are not.
func Grips(a, b *Track, turned func(first, last int) *Track) []Grip {
	n := min(a.Len(), b.Len())
	if n < 2 || !(a.Unit > 0) {
		return nil
	}
	var out []Grip
	least := clip.Window(a.Rate, gripSeconds)
	start := -1
	for i := 0; i <= n; i++ {
		if i < n && vec.Length(between(a, b, i)) <= gripReach {
			if start < 0 {
				start = i
			}
			continue
		}
		if start >= 0 && i-1-start >= least {
			if g, ok := gripSeen(a, b, start, i-1, least, turned); ok {
				out = append(out, g)
			}
		}
		start = -1
	}
	return out
}

// between returns the way from b to a at frame index i in a's unit. The origins
// are subtracted first, so that two points far from the scene's origin lose no
// digits.
func between(a, b *Track, i int) r3.Vec {
	k := 1 / a.Unit
	return r3.Vec{
		X: (a.Origin[0]-b.Origin[0])*k + a.X[i] - b.X[i]*b.Unit*k,
		Y: (a.Origin[1]-b.Origin[1])*k + a.Y[i] - b.Y[i]*b.Unit*k,
		Z: (a.Origin[2]-b.Origin[2])*k + a.Z[i] - b.Z[i]*b.Unit*k,
	}
}

// gripSeen looks for a grip in the frames first to last, in which the points are
// near: without turning and, where it is known, with it.
func gripSeen(a, b *Track, first, last, least int, turned func(first, last int) *Track) (Grip, bool) {
	rel, common := relativeTracks(a, b, first, last)
	g, ok := gripWithin(rel, common, first, least)
	if turned == nil {
		return g, ok
	}
	h, also := gripWithin(turned(first, last), common, first, least)
	if !ok || also && h.better(g) {
		return h, also
	}
	return g, ok
}

// better reports whether a grip tells more than another of the same two points: one
// that is firm with its slip and all, else the one that slips less.
func (g *Grip) better(o Grip) bool {
	firm, other := g.Relative < gripShare*g.Common, o.Relative < gripShare*o.Common
	if firm != other {
		return firm
	}
	return g.Slip < o.Slip
}

// gripWithin looks for a grip in the frames from first on, given one point's path
// as seen from the other and the path of the middle between them.
func gripWithin(rel, common *Track, first, least int) (Grip, bool) {
	v, u := rel.Speed(), common.Speed()
	against := func(i int) bool { return v[i] > max(gripShare*u[i], FloorSpeed(Position)) }
	i, j := 0, len(v)
	for i < j && against(i) {
		i++
	}
	for j > i && against(j-1) {
		j--
	}
	i, j = betweenRests(rel, i, j)
	g := Grip{First: first + i, Last: first + j, Common: common.PathLength(i, j), Relative: rel.PathLength(i, j)}
	if j-i < least || g.Common < gripTravel || g.Relative >= gripLoose*g.Common {
		return g, false
	}
	g.findSlip(rel, i, j)
	if held := g.Relative - rel.PathLength(g.SlipFirst, g.SlipLast); held >= gripShare*g.Common {
		return g, false
	}
	g.SlipFirst, g.SlipLast = g.SlipFirst+first, g.SlipLast+first
	return g, true
}

// betweenRests narrows the indices i to j of the path of one point seen from the
// other to where the two hold: what comes before the hand first keeps its place is
// reaching, what comes after it last does is letting go.
func betweenRests(rel *Track, i, j int) (int, int) {
	rest := clip.Window(rel.Rate, gripRest)
	for range gripCuts {
		var g Grip
		g.findSlip(rel, i, j)
		switch {
		case g.Slip <= gripSettled:
			return i, j
		case g.SlipFirst-i < rest:
			i = max(g.SlipLast, i+1)
		case j-g.SlipLast < rest:
			j = min(g.SlipFirst, j-1)
		default:
			return i, j
		}
		if i >= j {
			break
		}
	}
	return i, i
}

// findSlip measures the slip between the indices i and j of the path of one point
// seen from the other, and where it happens.
func (g *Grip) findSlip(rel *Track, i, j int) {
	for f := i + 1; f <= j; f++ {
		g.Slip = max(g.Slip, vec.Distance(rel.At(i), rel.At(f)))
	}
	g.SlipLast = i
	for g.SlipLast < j && vec.Distance(rel.At(i), rel.At(g.SlipLast)) < 0.9*g.Slip {
		g.SlipLast++
	}
	g.SlipFirst = g.SlipLast
	for g.SlipFirst > i && vec.Distance(rel.At(i), rel.At(g.SlipFirst)) > 0.1*g.Slip {
		g.SlipFirst--
	}
}

// relativeTracks returns the path of a seen from b and the path of the middle
// between them over the frames first to last, in a's unit.
func relativeTracks(a, b *Track, first, last int) (rel, common *Track) {
	n := last - first + 1
	c := make([]float64, 6*n)
	rel = &Track{X: c[:n], Y: c[n : 2*n], Z: c[2*n : 3*n], Rate: a.Rate, Noise: a.Noise + b.Noise*b.Unit/a.Unit, GivenStep: 1}
	common = &Track{X: c[3*n : 4*n], Y: c[4*n : 5*n], Z: c[5*n:], Rate: a.Rate, GivenStep: 1}
	for i := range n {
		d := between(a, b, first+i)
		rel.Put(i, d)
		common.Put(i, r3.Sub(a.At(first+i), r3.Scale(0.5, d)))
	}
	return rel, common
}
