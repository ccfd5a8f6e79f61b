package show

import (
	"math"
	"strconv"

	"curvelint/diagnostics/motion"
)

// Number writes a number in full but without noise: 12, 12.5.
func Number(v float64) string { return string(AppendNumber(nil, v)) }

// AppendNumber appends what Number returns.
func AppendNumber(dst []byte, v float64) []byte {
	if v == math.Trunc(v) && math.Abs(v) < 1e15 {
		return strconv.AppendInt(dst, int64(v), 10)
	}
	return strconv.AppendFloat(dst, math.Round(v*1e6)/1e6, 'f', -1, 64)
}

// number2 writes a number with two digits behind the point at most.
func number2(v float64) string { return string(appendNumber2(nil, v)) }

// appendNumber2 appends what number2 returns.
func appendNumber2(dst []byte, v float64) []byte {
	n := math.Round(v * 1e2)
	if !(math.Abs(n) < 1e15) {
		return strconv.AppendFloat(dst, n/1e2, 'f', -1, 64)
	}
	if n < 0 {
		dst, n = append(dst, '-'), -n
	}
	i := uint64(n)
	dst = strconv.AppendUint(dst, i/100, 10)
	if i %= 100; i > 0 {
		dst = append(dst, '.', byte('0'+i/10))
	}
	if i%10 > 0 {
		dst = append(dst, byte('0'+i%10))
	}
	return dst
}

// number3 writes a number with three digits behind the point at most.
func number3(v float64) string {
	return strconv.FormatFloat(math.Round(v*1e3)/1e3, 'f', -1, 64)
}

// amount writes a length of a track in its unit.
func amount(q motion.Quality, v float64) string { return bare(q, v) + Unit(q) }

// bare writes a length of a track without its unit.
func bare(q motion.Quality, v float64) string { return string(AppendBare(nil, q, v)) }

// AppendBare appends what bare returns.
func AppendBare(dst []byte, q motion.Quality, v float64) []byte {
	switch q {
	case motion.Rotation:
		return appendNumber2(dst, v)
	case motion.Value:
		return append(dst, number1(100*v)...)
	}
	return appendNumber2(dst, 100*v)
}

// Unit is the unit of a track's lengths.
func Unit(q motion.Quality) string {
	switch q {
	case motion.Rotation:
		return " degrees"
	case motion.Value:
		return " % of its range"
	}
	return " % of figure size"
}

// Count writes a number of things.
func Count(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return strconv.Itoa(n) + " " + thing + "s"
}

// number1 writes a number with one digit behind the point at most.
func number1(v float64) string {
	return strconv.FormatFloat(math.Round(v*10)/10, 'f', -1, 64)
}
