package track

import (
	"math"
	"sync/atomic"

	"curvelint/diagnostics/motion/clip"
)

// frameOfFilm is the time over which speed is averaged and rest and motion must
// last: one frame at 24 frames per second.
const frameOfFilm = 1.0 / 24

// Spacing returns the distances between successive positions
//
//	s[i] = |p[i+1] - p[i]|
//
// in the track's unit; its length is Len()-1, or 0 for fewer than two frames.
// It is computed once; callers must not write to it.
func (t *Track) Spacing() []float64 {
	return keptColumn(&t.spacing, func() []float64 {
		if t.Len() < 2 {
			return nil
		}
		return t.AppendSpacing(make([]float64, 0, t.Len()-1), 0, t.Len()-1, 1)
	})
}

// keptColumn returns the column that is kept, or else finds and keeps it.
func keptColumn(column *atomic.Pointer[[]float64], find func() []float64) []float64 {
	p := column.Load()
	if p == nil {
		found := find()
		if p = &found; !column.CompareAndSwap(nil, p) {
			p = column.Load()
		}
	}
	return *p
}

// AppendSpacing appends to dst the distances between every step-th position of
// frame indices first to last, both included, and returns the extended slice.
// It appends (last-first)/step values, none for an empty range or step < 1;
// the range is cut to the track's frames.
func (t *Track) AppendSpacing(dst []float64, first, last, step int) []float64 {
	first, last = max(first, 0), min(last, t.Len()-1)
	if step < 1 {
		return dst
	}
	x, y, z := t.X, t.Y, t.Z
	for i := first; i <= last-step; i += step {
		dx, dy, dz := x[i+step]-x[i], y[i+step]-y[i], z[i+step]-z[i]
		dst = append(dst, math.Sqrt(dx*dx+dy*dy+dz*dz))
	}
	return dst
}

// Speed returns the speed over every spacing in units per second; its length is
// Len()-1. At 24 frames per second and below it is the spacing times the rate.
// Above, it is what the motion would show at 24 on average: the chord over 1/24 s
// of the path averaged over 1/24 s less one frame,
//
//	v[i] = |q(c+w/2) - q(c-w/2)| / w, c = i + 1/2, w = Rate/24 frames
//	q(u) = mean of p between u-(w-1)/2 and u+(w-1)/2
//
// with p between frames on the straight line. So the same motion has the same
// speed at every rate, and the jitter of captured motion does not grow with the
// rate. On twos the chord spans two steps' length (1/12 s) of the path itself.
// At the ends of the clip the windows are cut to the clip.
//
// It is computed once; callers must not write to it. A rate that is not
// positive gives speeds of 0.
func (t *Track) Speed() []float64 {
	return keptColumn(&t.speed, func() []float64 {
		if t.Len() < 2 {
			return nil
		}
		v := make([]float64, 0, t.Len()-1)
		if t.speedIsSpacing() {
			v = t.AppendSpacing(v, 0, t.Len()-1, 1) // which need not be kept as well
		}
		v = v[:t.Len()-1]
		t.fillSpeed(v, v)
		return v
	})
}

// speedIsSpacing reports whether the speed is the spacing times the rate.
func (t *Track) speedIsSpacing() bool { return t.speedFrames() <= 1+1e-6 } // but for the digits of the rate

// fillSpeed sets v to Speed; spacing is that of the track where speedIsSpacing.
func (t *Track) fillSpeed(v, spacing []float64) {
	if !(t.Rate > 0) || math.IsInf(t.Rate, 0) {
		clear(v)
		return
	}
	if t.speedIsSpacing() {
		for i, s := range spacing {
			v[i] = s * t.Rate
		}
		return
	}
	w := t.speedFrames()
	n, apart := t.speedChords()
	for i := range v {
		v[i] = t.chordSpeed(float64(i)+0.5, w, n, apart)
	}
}

// speedFrames returns the width in frames of the window of Speed, at least 1.
func (t *Track) speedFrames() float64 {
	if t.Stepping() == 2 {
		return twosFrames(t.Rate)
	}
	return max(1, t.Rate*frameOfFilm)
}

// mostChords limits how many chords make up one speed: at higher rates than
// 216 frames per second they stand apart by more than a frame.
const mostChords = 9

// speedChords returns how many chords are averaged for one speed and how many
// frames their middles are apart: they cover one frame less than the window.
func (t *Track) speedChords() (n int, apart float64) {
	over := t.speedFrames() - 1
	if t.Stepping() == 2 || over <= 0 {
		return 1, 0
	}
	n = int(min(mostChords, math.Ceil(over-1e-9)+1))
	return n, over / float64(n-1)
}

// chordSpeed returns the speed in units per second of the mean of n chords of
// w > 0 frames whose middles stand evenly around time c, in frames; each chord is
// cut to the clip. For Len() >= 2 and 0 < c < Len()-1 (not checked).
func (t *Track) chordSpeed(c, w float64, n int, apart float64) float64 {
	var x, y, z, long float64
	end, last := float64(t.Len()-1), t.Len()-2
	c -= apart * float64(n-1) / 2
	for range n {
		a, b := min(max(c-w/2, 0), end), max(min(c+w/2, end), 0)
		i, j := min(int(a), last), min(int(b), last)
		f, g := a-float64(i), b-float64(j)
		x += t.X[j] + g*(t.X[j+1]-t.X[j]) - t.X[i] - f*(t.X[i+1]-t.X[i])
		y += t.Y[j] + g*(t.Y[j+1]-t.Y[j]) - t.Y[i] - f*(t.Y[i+1]-t.Y[i])
		z += t.Z[j] + g*(t.Z[j+1]-t.Z[j]) - t.Z[i] - f*(t.Z[i+1]-t.Z[i])
		long += b - a
		c += apart
	}
	return math.Sqrt(x*x+y*y+z*z) * t.Rate / long
}

// StillLimit returns the change in the track's unit up to which there is no
// motion: twice the noise, and at least what rounding can make of nothing.
func (t *Track) StillLimit() float64 {
	least := stillEpsilon
	if t.Quality == Rotation {
		least = 1e-7 // degrees: acos and atan2 near zero
	}
	// The last printed decimal changing by one is a change of exactly twice
	// the noise, give or take rounding: no motion.
	return max(2*t.Noise*(1+1e-6), least)
}

// StepFrames returns the number of frames of one spacing on ones (step 1) or
// twos (step 2): step times the frames nearest to 1/24 s, at least step.
func (t *Track) StepFrames(step int) int {
	return max(step, 1) * clip.Window(t.Rate, frameOfFilm)
}
