package designed

import "math"

// Signal is a value over time, in seconds from the first frame. A nil Signal
// stands for the neutral value: 0, or 1 for a scale.
type Signal func(t float64) float64

// At returns the signal's value, or neutral when there is no signal.
func (s Signal) At(t, neutral float64) float64 {
	if s == nil {
		return neutral
	}
	return s(t)
}

// Still is a value that does not change.
func Still(v float64) Signal { return func(float64) float64 { return v } }

// Add is the sum of signals; nil ones count nothing.
func Add(signals ...Signal) Signal {
	return func(t float64) float64 {
		sum := 0.0
		for _, s := range signals {
			if s != nil {
				sum += s(t)
			}
		}
		return sum
	}
}

// Times is k times a signal.
func Times(k float64, s Signal) Signal {
	return func(t float64) float64 { return k * s.At(t, 0) }
}

// Late is a signal that comes d seconds later: the offset between a leading and
// a following part.
func Late(d float64, s Signal) Signal {
	return func(t float64) float64 { return s.At(t-d, 0) }
}

// Stroke goes by change between the times from and to, and rests before and
// after.
func Stroke(p Profile, from, to, change float64) Signal {
	return func(t float64) float64 {
		switch {
		case t <= from:
			return 0
		case t >= to:
			return change
		}
		return change * p((t-from)/(to-from))
	}
}

// Swell goes to amount and back again between the times from and to, at its
// most in the middle: the dip of a head in a turn, a step's lift.
func Swell(from, to, amount float64) Signal {
	mid := (from + to) / 2
	return Add(Stroke(MinimumJerk, from, mid, amount), Stroke(MinimumJerk, mid, to, -amount))
}

// Arch is amount * sin^2 over the times from and to: there and back in one
// stroke with no stop at the top.
func Arch(from, to, amount float64) Signal {
	return func(t float64) float64 {
		if t <= from || t >= to {
			return 0
		}
		s := math.Sin(math.Pi * (t - from) / (to - from))
		return amount * s * s
	}
}

// Key is a value at a time with a slope per second.
type Key struct{ T, V, Slope float64 }

// Keyed runs through keys, which must be in order of time, on cubics that have
// the keys' slopes; it rests before the first and after the last.
func Keyed(keys ...Key) Signal {
	return func(t float64) float64 {
		for i := 1; i < len(keys); i++ {
			a, b := keys[i-1], keys[i]
			if t < a.T || t >= b.T {
				continue
			}
			d := b.T - a.T
			s := (t - a.T) / d
			r := 1 - s
			return a.V*(1+2*s)*r*r + a.Slope*d*s*r*r + b.V*s*s*(3-2*s) - b.Slope*d*s*s*r
		}
		if t < keys[0].T {
			return keys[0].V
		}
		return keys[len(keys)-1].V
	}
}

// Pose is a value at a time.
type Pose struct{ T, V float64 }

// Through runs through poses, which must be in order of time, with the same
// profile between each and the next; it rests before the first and after the
// last. Two poses of one value are a hold.
func Through(p Profile, poses ...Pose) Signal {
	return func(t float64) float64 {
		if t <= poses[0].T {
			return poses[0].V
		}
		for i := 1; i < len(poses); i++ {
			a, b := poses[i-1], poses[i]
			if t < b.T {
				return a.V + (b.V-a.V)*p((t-a.T)/(b.T-a.T))
			}
		}
		return poses[len(poses)-1].V
	}
}

// Wave is amplitude * sin(2 pi (t/period + phase)), phase in turns.
func Wave(amplitude, period, phase float64) Signal {
	return func(t float64) float64 {
		return amplitude * math.Sin(2*math.Pi*(t/period+phase))
	}
}

// Settle swings out after a stop at time at: n half swings of seconds half
// each, the first of size amount, every next one ratio times the one before and
// to the other side.
func Settle(at, half, amount, ratio float64, n int) Signal {
	poses := []Pose{{at, 0}}
	for i := range n {
		poses = append(poses, Pose{at + (float64(i)+0.5)*half, amount})
		amount *= -ratio
	}
	poses = append(poses, Pose{at + float64(n)*half, 0})
	return Through(MinimumJerk, poses...)
}

// Blink closes by amount at each of the times and opens again: 2/24 s down,
// 1/24 s shut, 3/24 s up.
func Blink(amount float64, times ...float64) Signal {
	var all []Signal
	for _, at := range times {
		all = append(all, Through(HalfCosine,
			Pose{at, 0}, Pose{at + 2./24, amount}, Pose{at + 3./24, amount}, Pose{at + 6./24, 0}))
	}
	return Add(all...)
}

// Breath is a slow in and out of the given amplitude, in a little quicker than
// out.
func Breath(amplitude, period, phase float64) Signal {
	return func(t float64) float64 {
		x := 2 * math.Pi * (t/period + phase)
		return amplitude * (math.Sin(x) + 0.18*math.Sin(2*x+0.4))
	}
}

// Stepped holds a signal and lets it change only perSecond times a second: 12
// is on twos at 24 frames a second.
func Stepped(s Signal, perSecond float64) Signal {
	return func(t float64) float64 {
		return s.At(math.Floor(t*perSecond+1e-6)/perSecond, 0)
	}
}
