package track

import (
	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion/vec"
)

// The residuals around a spike of size h in a smooth path are h at the spike,
// -2h/3 beside it and h/6 two frames away: the weights of cubicResidual. A sharp
// corner shows -1/2 and 0 instead.
const (
	besideSpike      = -2.0 / 3
	besideTolerance  = 0.12
	nextToSpike      = 1.0 / 6
	nextTolerance    = 0.10
	spikeClear       = 3 // times every residual from spikeNear to spikeFar frames away
	spikeNear        = 3
	spikeFar         = 7
	residualReach    = 2 // frames at either end without a residual
	signatureReaches = 2
)

// cubicResidual returns how far x[i] lies from the cubic through its two
// neighbours on each side,
//
//	r = x[i] - (4 (x[i-1] + x[i+1]) - (x[i-2] + x[i+2])) / 6
//
// the value at 0 of the polynomial of third degree through the values at -2, -1,
// 1 and 2 (Lagrange's weights -1/6, 2/3, 2/3, -1/6). Cubics have no residual.
// It is 0 for the first two and last two elements, which have not the neighbours.
func cubicResidual(x []float64, i int) float64 {
	if i < residualReach || i+residualReach >= len(x) {
		return 0
	}
	return sixResiduals(x[i-2], x[i-1], x[i], x[i+1], x[i+2]) / 6
}

// sixResiduals is six times cubicResidual of the third of five values.
func sixResiduals(a, b, c, d, e float64) float64 {
	// Differences first: far from the origin they keep their digits.
	return (a - c) + (e - c) - 4*((b-c)+(d-c))
}

// residual returns cubicResidual of the path at frame index i, in the track's
// unit.
func (t *Track) residual(i int) r3.Vec {
	return r3.Vec{X: cubicResidual(t.X, i), Y: cubicResidual(t.Y, i), Z: cubicResidual(t.Z, i)}
}

// Spike is one frame that stands out of a smooth path.
type Spike struct {
	Frame int
	Size  float64 // distance from the smooth path, in the track's unit
}

// Spikes returns the frames, in order, that lie more than least (and more than
// StillLimit) off the cubic through their neighbours, more than 3 times as far
// as every frame 3 to 7 frames away, with the signature of a spike: the
// residuals along its own direction are -2/3 of its own (give or take 0.12)
// beside it and +1/6 (0.10) two frames away. Frames that have no residual (the
// first two and last two) are neither spikes nor asked for a signature.
//
// Callers must not write to the result.
func (t *Track) Spikes(least float64) []Spike {
	return Kept(t, spikesOver(least), func() []Spike { return t.findSpikes(least) })
}

// spikesOver is the key of Spikes.
type spikesOver float64

func (t *Track) findSpikes(least float64) []Spike {
	var out []Spike
	least = max(least, t.StillLimit())
	size := func(i int) float64 { return vec.Length(t.residual(i)) }
	few := least * least * (1 - rounding)
	for i := residualReach; i < t.Len()-residualReach; i++ {
		if i = t.offCubic(i, few); i < 0 {
			break
		}
		if s := size(i); s > least && t.standsOut(i, size) && t.spikeShaped(i) {
			out = append(out, Spike{i, s})
		}
	}
	return out
}

// offCubic returns the first frame from index i >= 2 on whose residual has a
// square over limit, -1 when there is none. In motion nearly no frame has.
func (t *Track) offCubic(i int, limit float64) int {
	x, y, z := t.X[i-residualReach:], t.Y[i-residualReach:], t.Z[i-residualReach:]
	y, z = y[:len(x)], z[:len(x)]
	limit *= 6 * 6
	for k := 4; k < len(x); k++ {
		a := sixResiduals(x[k-4], x[k-3], x[k-2], x[k-1], x[k])
		b := sixResiduals(y[k-4], y[k-3], y[k-2], y[k-1], y[k])
		c := sixResiduals(z[k-4], z[k-3], z[k-2], z[k-1], z[k])
		if a*a+b*b+c*c > limit {
			return i + k - 4
		}
	}
	return -1
}

// standsOut compares the residual of frame i with those 3 to 7 frames away.
func (t *Track) standsOut(i int, size func(int) float64) bool {
	for d := spikeNear; d <= spikeFar; d++ {
		if i-d >= 0 && spikeClear*size(i-d) >= size(i) || i+d < t.Len() && spikeClear*size(i+d) >= size(i) {
			return false
		}
	}
	return true
}

// spikeShaped reports whether the residuals around frame i are those of a spike.
func (t *Track) spikeShaped(i int) bool {
	r := t.residual(i)
	square := r3.Dot(r, r)
	for d := -signatureReaches; d <= signatureReaches; d++ {
		if d == 0 || i+d < residualReach || i+d+residualReach >= t.Len() {
			continue
		}
		share := r3.Dot(t.residual(i+d), r) / square
		want, tolerance := nextToSpike, nextTolerance
		if d == -1 || d == 1 {
			want, tolerance = besideSpike, besideTolerance
		}
		if !(share >= want-tolerance && share <= want+tolerance) {
			return false
		}
	}
	return true
}
