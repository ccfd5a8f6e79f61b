package words

import "math"

// Seconds writes a time: "1.5 s" and, below a second, where a frame counts, "0.38 s".
func Seconds(v float64) string {
	n := decimal(v, secondsDecimals(v))
	if n == "0" && v > 0 {
		return "under 0.01 s"
	}
	return n + " s"
}

// secondsDecimals is 2 below a second and 1 from there.
func secondsDecimals(v float64) int {
	if math.Abs(v) < 0.995 {
		return 2
	}
	return 1
}

// Metres writes a length in the world with three digits that count, below a metre in
// centimetres and there with one decimal at most: "1.75 m", "3.4 cm".
func Metres(v float64) string {
	if math.Abs(v) < 0.9995 {
		n := decimal(100*v, 1)
		if n == "0" && v != 0 {
			return "under 0.1 cm"
		}
		return n + " cm"
	}
	return digits(v, 3) + " m"
}
