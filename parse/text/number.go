package text

import (
	"encoding/binary"
	"math"
	"math/bits"
)

// maxDigits is how many decimal digits always fit in a uint64.
const maxDigits = 19

// Float reads the decimal number that starts at src[i]: an optional sign,
// digits with an optional point, an optional exponent; or inf, infinity or nan
// in any case. v is correctly rounded, end is the offset of the first byte
// that cannot continue the number, and ok is false (with end = i) when no
// number starts at i. Infinities, NaN and numbers too large for a float64 are
// given as values: callers that want finite numbers look at v.
//
// What follows the number is the caller's to judge: in "1.5x" the number is
// 1.5 and ends at the x; an exponent without digits is not part of a number.
func Float(src []byte, i int) (v float64, end int, ok bool) {
	v, end, _, ok = FloatStep(src, i)
	return v, end, ok
}

// FloatStep is Float that also says how finely the number was printed: its
// last digit counts 10^-decimals. "1.50" has 2 decimals, "2e-3" has 3, "7e2"
// has -2; words have 0.
func FloatStep(src []byte, i int) (v float64, end, decimals int, ok bool) {
	if i < 0 || i+shortNumber > len(src) {
		return long(src, i)
	}
	// Signs are as good as random in motion data, so no branch hangs on them.
	q := i
	var sign uint64
	if src[i] == '-' {
		q = i + 1
		sign = 1 << 63
	}
	word := src[q : q+16]
	x := binary.LittleEndian.Uint64(word) ^ zeros
	y := binary.LittleEndian.Uint64(word[8:]) ^ zeros
	high := noDigits(x)
	p := bits.TrailingZeros64(high) >> 3 // digits before the point
	n := p                               // digits in all
	end = q + p
	if word[p&15] == '.' {
		// A point carries nothing into the bytes behind it, so that the next
		// byte that is no digit shows as well.
		n = bits.TrailingZeros64(high&(high-1))>>3 - 1
		far := bits.TrailingZeros64(noDigits(y))>>3 + 7
		if n == 7 { // no branch either
			n = far
		}
		end = q + n + 1
		decimals = n - p
		before := uint64(1)<<(8*p&63) - 1
		x = x&before | x>>8&^before | y<<56
		y >>= 8
	}
	if c := src[end]; n == 0 || n > 14 || p == 8 || c|0x20 == 'e' || c == '.' {
		return uncommon(src, i)
	}
	// The n digits are moved up to the end of the two words.
	up := 128 - 8*n
	low, top := x<<(up&63), y<<(up&63)|x>>(-up&63)
	if up >= 64 {
		low, top = 0, low
	}
	m := eight(low)*1e8 + eight(top)
	v = float64(int64(m)) / pow10[decimals&31]
	return math.Float64frombits(math.Float64bits(v) | sign), end, decimals, true
}

// uncommon reads a number that is not of the form that nearly all have.
func uncommon(src []byte, i int) (v float64, end, decimals int, ok bool) {
	if m, n, q := short(src, i); q > i {
		var sign uint64
		if src[i] == '-' {
			sign = 1 << 63
		}
		if m >= 1<<53 {
			return slowFloat(src, i, q, n, m, -n, sign), q, n, true
		}
		v = float64(int64(m)) / pow10[n&31]
		return math.Float64frombits(math.Float64bits(v) | sign), q, n, true
	}
	return long(src, i)
}

// zeros are eight digits 0.
const zeros = 0x3030303030303030

// noDigits has the high bit of every byte of x set that is no digit's value. A
// carry out of such a byte spoils only bytes behind it.
func noDigits(x uint64) uint64 { return (x + 0x7676767676767676 | x) & 0x8080808080808080 }

// eight returns the number that the values of eight digits make, the first in
// the lowest byte: neighbours are joined to pairs, pairs to fours, fours to eight.
func eight(x uint64) uint64 {
	x = x*10 + x>>8
	const pairs = 0x000000FF000000FF
	return ((x&pairs)*(100+1000000<<32) + (x>>16&pairs)*(1+10000<<32)) >> 32
}

// shortNumber is how many bytes short may touch: a sign, seven digits, a
// point, two runs of eight and the byte behind them.
const shortNumber = 1 + 7 + 1 + 8 + 8 + 1

// short reads a number with at most 7 digits before the point, at most 15
// behind it and no exponent, as nearly all are, without a loop: the number m
// that its digits make, how many of them are decimals, and where it ends. For
// any other number end is i.
func short(src []byte, i int) (m uint64, decimals, end int) {
	// Signs are as good as random in motion data, so no branch hangs on them.
	q := i
	if src[i] == '-' {
		q = i + 1
	}
	m, n := run(src[q : q+8])
	if n == 8 {
		return 0, 0, i
	}
	q += n
	c := src[q]
	if c == '.' {
		f, k := run(src[q+1 : q+9])
		m = m*intPow10[k&15] + f
		q += k + 1
		if decimals = k; k == 8 {
			f, k = run(src[q : q+8])
			m = m*intPow10[k&15] + f
			q += k
			decimals += k
		}
		n += decimals
		c = src[q]
	}
	if n == 0 || n > maxDigits || c|0x20 == 'e' || decimals == 16 {
		return 0, 0, i
	}
	return m, decimals, q
}

// long reads a number of any form.
func long(src []byte, i int) (v float64, end, decimals int, ok bool) {
	if uint(i) >= uint(len(src)) {
		return 0, i, 0, false
	}
	var sign uint64
	if src[i] == '-' {
		sign = 1 << 63
	}
	m, n, exp, q := decimal(src, i+signWidth(src[i]))
	if n == 0 {
		return word(src, i)
	}
	if q+1 < len(src) && src[q]|0x20 == 'e' {
		var e int
		e, q = exponent(src, q)
		exp += e
	}
	if n > maxDigits || m >= 1<<53 || exp < -22 || exp > 22 {
		return slowFloat(src, i, q, n, m, exp, sign), q, -exp, true
	}
	// m and the power of ten are exact, so one division or product rounds once.
	v = float64(m)
	if exp < 0 {
		v /= pow10[-exp&31]
	} else if exp > 0 {
		v *= pow10[exp&31]
	}
	return math.Float64frombits(math.Float64bits(v) | sign), q, -exp, true
}

// signWidth returns 1 for a sign and 0 for any other byte.
func signWidth(c byte) int {
	n := 0
	if c == '-' {
		n = 1
	}
	if c == '+' {
		n = 1
	}
	return n
}

// run returns the number that the run of up to eight decimal digits at the
// start of src makes, and how many they are; src has at least eight bytes.
func run(src []byte) (v uint64, n int) {
	x := binary.LittleEndian.Uint64(src) ^ zeros
	n = bits.TrailingZeros64(noDigits(x)) >> 3
	// Digits are moved up so that zeros come before them.
	return eight(x << (64 - 8*uint(n))), n
}

// decimal reads digits with an optional point at src[i]: the number m that its
// n digits make, the power of ten that m counts, and where it ends.
func decimal(src []byte, i int) (m uint64, n, exp, end int) {
	m, end = digits(src, i, 0)
	n = end - i
	if end < len(src) && src[end] == '.' {
		i = end + 1
		m, end = digits(src, i, m)
		n += end - i
		exp = i - end
	}
	return m, n, exp, end
}

// digits appends the run of decimal digits at src[i] to the number m and
// returns it with the offset behind the run. m wraps around past maxDigits.
func digits(src []byte, i int, m uint64) (uint64, int) {
	for i+8 <= len(src) {
		v, n := run(src[i:])
		if n == 0 {
			return m, i
		}
		m = m*intPow10[n] + v
		i += n
		if n < 8 {
			return m, i
		}
	}
	for i < len(src) && src[i]-'0' <= 9 {
		m = m*10 + uint64(src[i]-'0')
		i++
	}
	return m, i
}

// exponent reads the exponent whose letter stands at src[i]. Without digits
// there is none, and end is i. Huge exponents saturate.
func exponent(src []byte, i int) (e, end int) {
	p := i + 1
	negative := false
	if p < len(src) {
		negative = src[p] == '-'
		p += signWidth(src[p])
	}
	start := p
	for p < len(src) && src[p]-'0' <= 9 {
		if e < 1e6 {
			e = e*10 + int(src[p]-'0')
		}
		p++
	}
	if p == start {
		return 0, i
	}
	if negative {
		e = -e
	}
	return e, p
}

// word reads inf, infinity or nan with an optional sign at src[i].
func word(src []byte, i int) (v float64, end, decimals int, ok bool) {
	p := i + signWidth(src[i])
	switch {
	case hasWord(src, p, "infinity"):
		v, end = math.Inf(1), p+len("infinity")
	case hasWord(src, p, "inf"):
		v, end = math.Inf(1), p+len("inf")
	case hasWord(src, p, "nan"):
		return math.NaN(), p + len("nan"), 0, true
	default:
		return 0, i, 0, false
	}
	if src[i] == '-' {
		v = -v
	}
	return v, end, 0, true
}

// hasWord reports whether the lower-case word w stands at src[i] in any case.
func hasWord(src []byte, i int, w string) bool {
	if len(src)-i < len(w) {
		return false
	}
	for j := range len(w) {
		if src[i+j]|0x20 != w[j] {
			return false
		}
	}
	return true
}

// Step returns the size of one unit in the given decimal: 10^-decimals.
func Step(decimals int) float64 {
	if -22 <= decimals && decimals <= 0 {
		return pow10[-decimals]
	}
	if 0 < decimals && decimals <= 22 {
		return 1 / pow10[decimals]
	}
	return math.Pow(10, -float64(decimals))
}
