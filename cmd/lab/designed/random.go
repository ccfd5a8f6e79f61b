package designed

import "math"

// Seed numbers a stream of random but repeatable values.
type Seed uint64

// Next returns the next seed of the stream (SplitMix64: G. L. Steele et al.,
// "Fast splittable pseudorandom number generators", OOPSLA 2014).
func (s *Seed) Next() uint64 {
	*s += 0x9e3779b97f4a7c15
	z := uint64(*s)
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}

// Float returns a value in [0, 1).
func (s *Seed) Float() float64 { return float64(s.Next()>>11) / (1 << 53) }

// Between returns a value in [lo, hi).
func (s *Seed) Between(lo, hi float64) float64 { return lo + (hi-lo)*s.Float() }

// Spread returns a value about mid, up to share of it more or less.
func (s *Seed) Spread(mid, share float64) float64 { return mid * s.Between(1-share, 1+share) }

// Sign returns 1 or -1.
func (s *Seed) Sign() float64 {
	if s.Next()&1 == 0 {
		return 1
	}
	return -1
}

// Int returns a whole number from 0 to n-1; n must be positive.
func (s *Seed) Int(n int) int { return int(s.Next() % uint64(n)) }

// Chance reports true with probability p.
func (s *Seed) Chance(p float64) bool { return s.Float() < p }

// Noise is smooth noise: a sum of twelve sines between lo and hi hertz with
// random phases, of root mean square amplitude.
func Noise(seed Seed, amplitude, lo, hi float64) Signal {
	const n = 12
	var w, ph [n]float64
	for i := range n {
		f := lo * math.Pow(hi/lo, (float64(i)+seed.Float())/n)
		w[i], ph[i] = 2*math.Pi*f, 2*math.Pi*seed.Float()
	}
	k := amplitude * math.Sqrt(2./n)
	return func(t float64) float64 {
		sum := 0.0
		for i := range n {
			sum += math.Sin(w[i]*t + ph[i])
		}
		return k * sum
	}
}

// Drift is the slow wander of a moving hold: three sines with periods of 2.3 to
// 6 seconds that no other seed shares, together at most amplitude.
func Drift(seed Seed, amplitude float64) Signal {
	a := Wave(amplitude*0.5, seed.Between(4.2, 6), seed.Float())
	b := Wave(amplitude*0.3, seed.Between(3, 4), seed.Float())
	c := Wave(amplitude*0.2, seed.Between(2.3, 2.9), seed.Float())
	return Add(a, b, c)
}
