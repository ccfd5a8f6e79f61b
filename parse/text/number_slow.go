package text

import (
	"math"
	"math/bits"
	"strconv"
	"unsafe"
)

// pow10 are the powers of ten that a float64 holds exactly. It has 32 elements
// so that a masked index needs no bounds check.
var pow10 = [32]float64{
	1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11,
	1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22,
}

// intPow10 are the powers of ten by which a run of up to eight digits shifts
// the digits before it.
var intPow10 = [16]uint64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8}

// maxPow5 is the largest power of five that fits in a uint64.
const maxPow5 = 27

var pow5 = func() (p [maxPow5 + 1]uint64) {
	p[0] = 1
	for i := 1; i <= maxPow5; i++ {
		p[i] = p[i-1] * 5
	}
	return p
}()

// slowFloat gives the value of src[start:end], whose n digits make m and whose
// power of ten is exp, when one float64 operation is not exact.
func slowFloat(src []byte, start, end, n int, m uint64, exp int, sign uint64) float64 {
	if n <= maxDigits && -maxPow5 <= exp && exp <= maxPow5 {
		return math.Float64frombits(scaled(m, exp) | sign)
	}
	s := src[start:end]
	// The grammar was checked, so the only error left is a number out of
	// range, for which strconv gives an infinity.
	v, _ := strconv.ParseFloat(unsafe.String(unsafe.SliceData(s), len(s)), 64)
	return v
}

// scaled returns the bits of the float64 nearest to m * 10^exp, |exp| <= 27.
// Five to that power fits in 64 bits, so the product or quotient is taken
// exactly in 128 bits and rounded once.
func scaled(m uint64, exp int) uint64 {
	if m == 0 {
		return 0
	}
	shift := bits.LeadingZeros64(m)
	m <<= shift
	if exp < 0 {
		d := pow5[-exp]
		norm := bits.LeadingZeros64(d)
		d <<= norm
		// m < 2^64 <= 2d, so m/2 < d and the quotient fits.
		q, r := bits.Div64(m>>1, m<<63, d)
		// q = m * 2^63 / d, in (2^62, 2^64).
		return rounded(q, r != 0, exp-shift+norm-63)
	}
	hi, lo := bits.Mul64(m, pow5[exp])
	if hi == 0 {
		return rounded(lo, false, exp-shift)
	}
	norm := bits.LeadingZeros64(hi)
	q := hi<<norm | lo>>(64-uint(norm))
	return rounded(q, lo<<norm != 0, exp-shift+64-norm)
}

// rounded returns the bits of the float64 nearest to (q + s) * 2^exp, ties to
// even, where 0 < s < 1 if sticky and s = 0 if not, q >= 2^62, and the result
// is a normal number.
func rounded(q uint64, sticky bool, exp int) uint64 {
	norm := bits.LeadingZeros64(q)
	q <<= norm
	exp -= norm
	// Keep 53 of the 64 bits; the half is bit 10.
	mant, rest := q>>11, q&(1<<11-1)
	const half = 1 << 10
	if rest > half || rest == half && (sticky || mant&1 == 1) {
		mant++
	}
	if mant == 1<<53 {
		mant >>= 1
		exp++
	}
	return uint64(exp+11+52+1023)<<52 | mant&(1<<52-1)
}
