package scene

import "math"

// StandardRates are the rates that occur in production, in frames per second:
// whole rates and their 1000/1001 variants (SMPTE ST 12-1).
var StandardRates = []float64{
	8, 12, 15, 23.976023976023978, 24, 25, 29.97002997002997, 30,
	48, 50, 59.94005994005994, 60, 72, 90, 96, 100, 120, 240,
}

// SnapRate returns the standard rate nearest to rate when the two differ by no
// more than tolerance as a share of the rate, else rate itself. Use the
// tolerance that the digits of the file allow: 0.0416667 s a frame is 24
// within 1e-6, 0.041708 s is 24000/1001 within 2e-5.
func SnapRate(rate, tolerance float64) float64 {
	best, gap := rate, math.Inf(1)
	for _, r := range StandardRates {
		if g := math.Abs(r-rate) / r; g <= tolerance && g < gap {
			best, gap = r, g
		}
	}
	return best
}
