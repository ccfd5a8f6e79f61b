package motion

import "math"

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
	t.spacingOnce.Do(func() {
		if t.Len() > 1 {
			t.spacing = t.AppendSpacing(make([]float64, 0, t.Len()-1), 0, t.Len()-1, 1)
		}
	})
	return t.spacing
}

// SpacingOn returns the distances between every step-th position from frame
// index parity on,
//
//	s[k] = |p[parity + (k+1) step] - p[parity + k step]|
//
// in the track's unit: the spacing on twos for step 2 at 24 frames per second.
// StepFrames gives the step for other rates. The result is empty when step < 1,
// parity < 0 or fewer than two such positions exist.
func (t *Track) SpacingOn(step, parity int) []float64 {
	if step < 1 || parity < 0 || t.Len()-1-parity < step {
		return nil
	}
	return t.AppendSpacing(make([]float64, 0, (t.Len()-1-parity)/step), parity, t.Len()-1, step)
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

// WindowedSpacing returns for every frame index i the chord from i over a
// window of time,
//
//	s[i] = |p[i+w] - p[i]|, w = Window(Rate, seconds)
//
// in the track's unit, and w. Its length is Len()-w, or 0 when the track is not
// longer than the window.
func (t *Track) WindowedSpacing(seconds float64) (s []float64, w int) {
	w = Window(t.Rate, seconds)
	n := t.Len() - w
	if n <= 0 {
		return nil, w
	}
	s = make([]float64, n)
	for i := range s {
		s[i] = distance(t.at(i), t.at(i+w))
	}
	return s, w
}

// Speed returns the speed over every spacing in units per second; its length is
// Len()-1. Above 24 frames per second it is the speed of the chord over 1/24 s
// around the middle of the spacing,
//
//	v[i] = |p(c+w/2) - p(c-w/2)| / w, c = i + 1/2, w = Rate/24 frames
//
// with p between frames on the straight line, so that the same motion has the
// same speed at every rate, and noise does not grow with the rate. On twos the
// chord spans two steps' length (1/12 s). At the ends of the clip the window is
// cut to the clip.
//
// It is computed once; callers must not write to it. A rate that is not
// positive gives speeds of 0.
func (t *Track) Speed() []float64 {
	t.speedOnce.Do(func() {
		if t.Len() < 2 {
			return
		}
		t.speed = make([]float64, t.Len()-1)
		if !(t.Rate > 0) || math.IsInf(t.Rate, 0) {
			return
		}
		w := t.speedFrames()
		if w <= 1 {
			for i, s := range t.Spacing() {
				t.speed[i] = s * t.Rate
			}
			return
		}
		for i := range t.speed {
			t.speed[i] = t.chordSpeed(float64(i)+0.5, w)
		}
	})
	return t.speed
}

// speedFrames returns the width in frames of the window of Speed, at least 1.
func (t *Track) speedFrames() float64 {
	if t.Stepping() == 2 {
		return twosFrames(t.Rate)
	}
	return max(1, t.Rate*frameOfFilm)
}

// chordSpeed returns the speed in units per second of the chord of w > 0 frames
// around time c, in frames; the window is cut to the clip. For Len() >= 2 and
// 0 < c < Len()-1 (not checked).
func (t *Track) chordSpeed(c, w float64) float64 {
	a, b := max(c-w/2, 0), min(c+w/2, float64(t.Len()-1))
	i, j := int(a), min(int(b), t.Len()-2)
	f, g := a-float64(i), b-float64(j)
	dx := t.X[j] + g*(t.X[j+1]-t.X[j]) - t.X[i] - f*(t.X[i+1]-t.X[i])
	dy := t.Y[j] + g*(t.Y[j+1]-t.Y[j]) - t.Y[i] - f*(t.Y[i+1]-t.Y[i])
	dz := t.Z[j] + g*(t.Z[j+1]-t.Z[j]) - t.Z[i] - f*(t.Z[i+1]-t.Z[i])
	return math.Sqrt(dx*dx+dy*dy+dz*dz) * t.Rate / (b - a)
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
	return max(step, 1) * Window(t.Rate, frameOfFilm)
}
