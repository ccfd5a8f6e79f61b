package designed

import "math"

// Profile says how a stroke gets from 0 to 1 while s runs from 0 to 1. Outside
// that range it is never called.
type Profile func(s float64) float64

// MinimumJerk is 10 s^3 - 15 s^4 + 6 s^5: peak-to-mean speed 1.875 (T. Flash,
// N. Hogan, J. Neurosci. 5 (1985) 1688-1703).
func MinimumJerk(s float64) float64 { return s * s * s * (10 + s*(6*s-15)) }

// HalfCosine is (1 - cos(pi s))/2: peak-to-mean speed pi/2.
func HalfCosine(s float64) float64 { return (1 - math.Cos(math.Pi*s)) / 2 }

// Smooth is 3 s^2 - 2 s^3, a cubic with flat tangents: peak-to-mean speed 1.5.
func Smooth(s float64) float64 { return s * s * (3 - 2*s) }

// Even is s itself: constant speed.
func Even(s float64) float64 { return s }

// Trapezoid returns a profile of constant speed whose first and last share ease
// (0 to 0.5) speeds up and slows down evenly: peak-to-mean speed 1/(1-ease).
func Trapezoid(ease float64) Profile {
	if ease <= 0 {
		return Even
	}
	ease = min(ease, 0.5)
	v := 1 / (1 - ease)
	return func(s float64) float64 {
		switch {
		case s < ease:
			return v * s * s / (2 * ease)
		case s > 1-ease:
			return 1 - v*(1-s)*(1-s)/(2*ease)
		}
		return v * (s - ease/2)
	}
}

// Wavering returns profile p with its spacing made uneven by the share waver: n
// waves of sine are laid over the middle of it, none over its ends.
func Wavering(p Profile, waver float64, n int) Profile {
	w := 2 * math.Pi * float64(n)
	return func(s float64) float64 {
		e := math.Sin(math.Pi * s)
		return p(s) + waver/w*e*e*math.Sin(w*s)
	}
}

// Stuttered returns profile p with a stutter at s = mid: within half-width
// width the speed falls to the share keep of what it was, and what is lost is
// made up on both sides of the dip, so that the ends stay where they are.
func Stuttered(p Profile, mid, width, keep float64) Profile {
	return func(s float64) float64 {
		u := (s - mid) / (2 * width)
		if u <= -1 || u >= 1 {
			return p(s)
		}
		// A wave whose slope is -1 at the dip and positive beside it.
		lag := -(1 - keep) * u * (1 - u*u) * (1 - u*u)
		h := 1e-4
		slope := (p(min(s+h, 1)) - p(max(s-h, 0))) / (min(s+h, 1) - max(s-h, 0))
		return p(s) + slope*lag*2*width
	}
}
