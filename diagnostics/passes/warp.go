package passes

import (
	"math"
	"slices"

	"curvelint/diagnostics/motion/track"
	"curvelint/diagnostics/motion/warp"
)

// gridRate bounds how finely two passes are aligned, in samples a second: strokes
// are found by the study at the full rate.
const gridRate = 30.0

// reach is how far apart in seconds the same stroke may be in two passes, beyond
// what one is longer than the other.
const reach = 1.0

// warping maps the time of the earlier pass to that of the later.
type warping struct {
	first, step float64 // of the grid, seconds
	to          []float64
}

// warp aligns the motion of a pair by dynamic time warping of the distance of its
// poses: place and speed, each as a share of its range, so that neither a hold
// nor a moment of equal places leads astray. With speedOnly the bodies may differ.
func (p *trackPair) warp(k *clock, speedOnly bool) *warping {
	endB, endA := k.timeBefore(float64(k.before.N-1)), k.timeAfter(float64(k.after.N-1))
	w := &warping{first: min(0, k.timeAfter(0)), step: 1 / min(k.before.Rate, k.after.Rate, gridRate)}
	n := int(math.Ceil((max(endA, endB)-w.first)/w.step-1e-6)) + 1
	a := w.features(n, p.before, k.indexBefore)
	b := w.features(n, p.after, k.indexAfter)
	if speedOnly || p.turned {
		a, b = a[3:], b[3:]
	}
	share(a, b, speedOnly)
	lengths := math.Abs(float64(k.before.N)/k.before.Rate - float64(k.after.N)/k.after.Rate)
	aligned := warp.Align(a, b, int(math.Round((reach+lengths)/w.step)))
	w.to = make([]float64, n)
	w.average(aligned.Path)
	return w
}

// features are the columns that a track is aligned by: its place and its speed.
func (w *warping) features(n int, t *track.Track, index func(float64) float64) [][]float64 {
	back := make([]float64, 4*n)
	columns := [][]float64{back[:n], back[n : 2*n], back[2*n : 3*n], back[3*n:]}
	if t == nil {
		return columns
	}
	for i := range n {
		x := index(w.first + float64(i)*w.step)
		v := sample(t, x)
		columns[0][i], columns[1][i], columns[2][i], columns[3][i] = v.X, v.Y, v.Z, speedAt(t, x)
	}
	return columns
}

// share divides the places and the speeds of two passes by their range over both:
// a move of one size is then the same move whatever else was added to its clip.
// With own, each pass is divided by its own range: a body of another build moves
// as much when it moves as far as it can.
func share(a, b [][]float64, own bool) {
	speeds := len(a) - 1
	for _, columns := range [][2]int{{0, speeds}, {speeds, speeds + 1}} {
		x, y := rangeOf(a[columns[0]:columns[1]]), rangeOf(b[columns[0]:columns[1]])
		if !own {
			x = max(x, y)
			y = x
		}
		divide(a[columns[0]:columns[1]], x)
		divide(b[columns[0]:columns[1]], y)
	}
}

func divide(columns [][]float64, by float64) {
	if by == 0 {
		return
	}
	for _, c := range columns {
		for i := range c {
			c[i] /= by
		}
	}
}

// rangeOf returns the diagonal of the box of columns.
func rangeOf(columns [][]float64) float64 {
	sum := 0.0
	for _, c := range columns {
		if len(c) > 0 {
			d := slices.Max(c) - slices.Min(c)
			sum += d * d
		}
	}
	return math.Sqrt(sum)
}

// average turns the path into a function: of the elements that one stands for,
// the middle.
func (w *warping) average(path []warp.Pair) {
	count := make([]float64, len(w.to))
	for _, p := range path {
		w.to[p.A] += float64(p.B)
		count[p.A]++
	}
	for i := range w.to {
		w.to[i] /= count[i]
	}
}

// after returns the time in the later pass of a time in the earlier.
func (w *warping) after(t float64) float64 {
	x := (t - w.first) / w.step
	last := float64(len(w.to) - 1)
	if x <= 0 || x >= last {
		end := w.to[0]
		if x >= last {
			end = w.to[len(w.to)-1]
			x -= last
		}
		return w.first + w.step*(end+x)
	}
	i := int(x)
	u := x - float64(i)
	return w.first + w.step*((1-u)*w.to[i]+u*w.to[i+1])
}
