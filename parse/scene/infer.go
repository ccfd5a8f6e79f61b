package scene

import (
	"math"
	"sort"
)

// DefaultRate is the rate of a scene in seconds whose keys suggest no other.
const DefaultRate = 24

const (
	// fitShare is how many of the keys must fall on whole frames.
	fitShare = 0.95
	// fitSlack is how far from a whole frame a key may lie, in frames, and
	// fitDrift the same as a share of the frame number, for files whose
	// writer added up single-precision steps. 24 and 24000/1001 differ by
	// 1e-3 of the frame number and so stay apart.
	fitSlack, fitDrift = 1e-3, 1e-4
	// exactDecimals is the number of decimals from which on times count as
	// not rounded.
	exactDecimals = 9
	// sampleSize bounds how many keys are looked at, unless there are very
	// many columns, of each of which sampleEach are.
	sampleSize, sampleEach = 1 << 15, 64
)

// candidates are the standard rates from 24 on in the order in which they are
// tried, and 24000/1001 behind 24: keys that fit both are on 24.
var candidates = func() []float64 {
	list := []float64{24, 24000.0 / 1001}
	for _, rate := range StandardRates {
		if rate > 24 {
			list = append(list, rate)
		}
	}
	return list
}()

// InferRate returns the frames per second of a shot whose keys lie at the
// given times in seconds, one column per curve (the same column need not be
// given twice). It is the smallest standard rate from 24 on (or
// 24000/1001) of which 95 % of the keys fall on whole frames; if there is none, the rate of the most
// frequent step from key to key; else 24. Times printed with few decimals are
// allowed the error of their rounding. known is false when no standard rate
// came out. Times that are not finite are passed over.
func InferRate(seconds ...[]float64) (rate float64, known bool) {
	times, steps := sampleTimes(seconds)
	if len(times) == 0 {
		return DefaultRate, false
	}
	decimals := decimalsOf(times)
	if rate, ok := fittingRate(times, decimals); ok {
		return rate, true
	}
	return stepRate(steps, decimals)
}

// sampleTimes returns the times of the first keys of each column, zeros left
// out since they fit any rate, and the steps between neighbours.
func sampleTimes(columns [][]float64) (times, steps []float64) {
	each := max(sampleEach, sampleSize/max(1, len(columns)))
	for _, column := range columns {
		last := math.NaN()
		for _, t := range column[:min(each, len(column))] {
			if math.IsNaN(t) || math.IsInf(t, 0) {
				continue
			}
			if t != 0 {
				times = append(times, t)
			}
			if t > last {
				steps = append(steps, t-last)
			}
			last = t
		}
	}
	return times, steps
}

// decimalsOf returns the smallest number of decimals with which all times can
// have been printed, at most exactDecimals.
func decimalsOf(times []float64) int {
	d, scale := 0, 1.0
	for _, t := range times {
		for d < exactDecimals && !isWhole(t*scale) {
			d++
			scale *= 10
		}
	}
	return d
}

func isWhole(v float64) bool {
	return math.Abs(v-math.Round(v)) <= 1e-9*max(1, math.Abs(v))
}

// fittingRate looks for the smallest standard rate that fits: first taking the
// times as they are; then as rounded to their decimals; last among the rates
// that any number with so few decimals fits (100 for 0.04 and 0.13).
func fittingRate(times []float64, decimals int) (float64, bool) {
	trivial := func(rate float64) bool {
		return math.Mod(rate, math.Pow10(decimals)) == 0
	}
	for _, rate := range candidates {
		if !trivial(rate) && fits(times, rate, fitSlack) {
			return rate, true
		}
	}
	for _, rate := range candidates {
		// Rounded times tell 30 and 30000/1001 apart only over many frames;
		// the mean step does that better.
		whole := rate == math.Trunc(rate)
		slack := min(0.25, rounding(rate, decimals))
		if whole && !trivial(rate) && fits(times, rate, slack) {
			return rate, true
		}
	}
	for _, rate := range candidates {
		if trivial(rate) {
			return rate, true
		}
	}
	return 0, false
}

// rounding returns how many frames off rounding to so many decimals of a
// second can put a key.
func rounding(rate float64, decimals int) float64 {
	if decimals >= exactDecimals {
		return fitSlack
	}
	return max(fitSlack, 0.51*rate*math.Pow10(-decimals))
}

// fits reports whether enough of the times fall on whole frames of rate.
func fits(times []float64, rate, slack float64) bool {
	misses := int((1 - fitShare) * float64(len(times)))
	for _, t := range times {
		frame := t * rate
		if math.Abs(frame-math.Round(frame)) > min(0.25, slack+fitDrift*math.Abs(frame)) {
			if misses--; misses < 0 {
				return false
			}
		}
	}
	return true
}

// stepRate returns the rate of the most frequent step: the largest run of
// steps that differ by no more than rounding explains.
func stepRate(steps []float64, decimals int) (rate float64, known bool) {
	if len(steps) == 0 {
		return DefaultRate, false
	}
	sort.Float64s(steps)
	slack := 1.01 * math.Pow10(-decimals)
	var best, mean float64
	for i := 0; i < len(steps); {
		j, sum := i, 0.0
		limit := steps[i]*(1+2e-4) + 2*slack
		for j < len(steps) && steps[j] <= limit {
			sum += steps[j]
			j++
		}
		if n := float64(j - i); n > best {
			best, mean = n, sum/n
		}
		i = j
	}
	rate = 1 / mean
	// A shot keyed on twos at 24000/1001 steps by 1001/12000.
	if m := math.Ceil(23.9 / rate); m >= 1 && m <= 24 {
		if r := SnapRate(rate*m, 4e-4); r != rate*m {
			return r, true
		}
	}
	if !(1 <= rate && rate <= 1000) {
		return DefaultRate, false
	}
	return SnapRate(rate, 4e-4), false
}

// ToFrames returns the frames at which keys at the given times in seconds lie.
// A key that is off a whole frame by no more than the writer's precision can
// explain (single precision, or the decimals that the times have) lies on it,
// unless its neighbour does too.
func ToFrames(seconds []float64, rate float64) []float64 {
	frames := make([]float64, len(seconds))
	slack := fitSlack
	if d := decimalsOf(seconds[:min(256, len(seconds))]); d >= 2 {
		slack = min(0.125, rounding(rate, d))
	}
	snapped := func(t float64) float64 {
		frame := t * rate
		whole := math.Round(frame)
		if math.Abs(frame-whole) <= slack+2e-6*math.Abs(frame) {
			return whole
		}
		return frame
	}
	for i, t := range seconds {
		frames[i] = snapped(t)
		if i > 0 && frames[i] <= frames[i-1] {
			frames[i-1], frames[i] = seconds[i-1]*rate, t*rate
		}
	}
	return frames
}
