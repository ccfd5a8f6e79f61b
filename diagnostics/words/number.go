package words

import (
	"math"
	"strconv"
	"strings"
)

// beyond is from where on a number has an exponent: no shot has it, but a broken
// file may.
const beyond = 1e15

// powers of ten, by the number of decimals.
var powers = [...]float64{1, 10, 100, 1e3, 1e4, 1e5, 1e6}

// appendDecimal appends a number with at most so many decimals (0 to 6), or with all
// of them when they are padded with zeros.
func appendDecimal(dst []byte, v float64, decimals int, padded bool) []byte {
	switch {
	case math.IsNaN(v):
		return append(dst, "unknown"...)
	case math.IsInf(v, 0):
		return append(dst, "infinite"...)
	}
	n := math.Round(math.Abs(v) * powers[decimals])
	if n >= beyond {
		if math.Abs(v) >= beyond {
			return strconv.AppendFloat(dst, v, 'g', 4, 64)
		}
		return strconv.AppendFloat(dst, v, 'f', 0, 64)
	}
	if v < 0 && n > 0 {
		dst = append(dst, '-')
	}
	// By hand: outlines of large files have many thousands of these.
	whole, rest := uint64(n)/uint64(powers[decimals]), uint64(n)%uint64(powers[decimals])
	dst = strconv.AppendUint(dst, whole, 10)
	if rest == 0 && !padded || decimals == 0 {
		return dst
	}
	dst = append(dst, '.')
	for i := decimals - 1; i >= 0 && (rest > 0 || padded); i-- {
		p := uint64(powers[i])
		dst = append(dst, '0'+byte(rest/p))
		rest %= p
	}
	return dst
}

func decimal(v float64, decimals int) string { return string(appendDecimal(nil, v, decimals, false)) }

func padded(v float64, decimals int) string { return string(appendDecimal(nil, v, decimals, true)) }

// Number writes a number that stands in a file, such as the value of a key or a
// setting, in full but without noise: at most six decimals. What is no number is
// written as files do: "nan", "-inf".
func Number(v float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return strings.TrimPrefix(strings.ToLower(strconv.FormatFloat(v, 'f', -1, 64)), "+")
	}
	return decimal(v, 6)
}

// Value writes a number that was computed, in a unit of the file, to be typed again:
// five digits that count, "12.346", "0.00012346", "123456".
func Value(v float64) string { return digits(v, 5) }

// digits writes a number with n digits that count and never an exponent.
func digits(v float64, n int) string {
	if v == 0 || math.IsNaN(v) || math.IsInf(v, 0) || math.Abs(v) >= beyond {
		return decimal(v, 0)
	}
	magnitude := int(math.Floor(math.Log10(math.Abs(v))))
	return trimmed(strconv.FormatFloat(v, 'f', min(max(0, n-1-magnitude), 12), 64))
}

// trimmed takes the zeros at the end of a decimal off.
func trimmed(s string) string {
	end := len(s)
	for i := range len(s) {
		if s[i] != '.' {
			continue
		}
		for s[end-1] == '0' {
			end--
		}
		if end == i+1 {
			end = i
		}
		break
	}
	if s[:end] == "-0" {
		return "0"
	}
	return s[:end]
}

// Ratio writes what has no unit, such as an arc depth or a spacing contrast, with two
// decimals: "0.10". Ratios are read against those of other moves, so that zeros stay.
func Ratio(v float64) string { return padded(v, 2) }

// Signed writes a difference with its sign and at most one decimal: "+2", "-1.5", "0".
func Signed(v float64) string {
	s := decimal(v, 1)
	if v > 0 && s != "0" {
		return "+" + s
	}
	return s
}

// OnScale writes a number on a scale, with the decimals that the step between two of
// its marks has.
func OnScale(v, step float64) string {
	decimals := 0
	if step < 1 {
		decimals = min(max(0, int(math.Ceil(-math.Log10(step)-1e-9))), 6)
	}
	return padded(v, decimals)
}

// Point writes a place in scene units: "(1.5, 0, -12.125)". Three decimals are a
// millimetre in a scene of metres.
func Point(x, y, z float64) string {
	return "(" + decimal(x, 3) + ", " + decimal(y, 3) + ", " + decimal(z, 3) + ")"
}

// Stable returns a number for programs with six digits that count, so that reports do
// not differ between machines by its last bits; 0 for what is no finite number.
func Stable(v float64) float64 {
	if v == 0 || math.IsNaN(v) || math.IsInf(v, 0) {
		return 0 // and never -0
	}
	r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 6, 64), 64)
	if err != nil {
		return v
	}
	return r
}
