// Package words is the one place that says how numbers, units, frames, times and
// lists are worded, so that one amount reads alike in a note, on hover, in a
// comparison and in a picture:
//
//   - a length is a share of figure size, "2.1 % of figure size", never
//     "0.021 figure";
//   - a turn is in degrees, "12.5 degrees"; a weight in shares of its range, "8 %
//     of its range"; a speed is so much "a second";
//   - frames are "frame 31" and "frames 31-39", sub-frames with at most two
//     decimals;
//   - a move leaves and arrives over so many frames: half the trade reads "ease
//     in" the other way round;
//   - how much the spacings of a move differ is its spacing contrast.
//
// Amount is for a glance, with one decimal (two below 1); Exact is for numbers
// that somebody may retype.
package words

import (
	"math"
	"strconv"
	"strings"
)

// Number writes a number in full but without noise: 12, 12.5; at most six
// decimals.
func Number(v float64) string { return string(AppendNumber(nil, v)) }

// AppendNumber appends what Number returns.
func AppendNumber(dst []byte, v float64) []byte {
	if v == math.Trunc(v) && math.Abs(v) < 1e15 {
		return strconv.AppendInt(dst, int64(v), 10)
	}
	return strconv.AppendFloat(dst, math.Round(v*1e6)/1e6, 'f', -1, 64)
}

// Rounded writes a number with at most the given decimals, and no zeros at its
// end. What rounds to nothing is 0, never -0.
func Rounded(v float64, decimals int) string {
	power := math.Pow(10, float64(decimals))
	return strconv.FormatFloat(math.Round(v*power)/power+0, 'f', -1, 64)
}

// Fixed writes a number with exactly the given decimals, for columns and pairs
// that are compared.
func Fixed(v float64, decimals int) string { return strconv.FormatFloat(v, 'f', decimals, 64) }

// Append2 appends what Rounded(v, 2) returns; hints are made of thousands of these.
func Append2(dst []byte, v float64) []byte {
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

// Frame writes a display frame: 31, 12.5.
func Frame(f float64) string { return Rounded(f, 2) }

// Range writes a range of display frames: "31-39", or "31" for one.
func Range(first, last float64) string {
	a, b := Frame(first), Frame(last)
	if a == b {
		return a
	}
	return a + "-" + b
}

// Frames names display frames the way people do: "frames 31-39", "frame 31".
func Frames(first, last float64) string {
	r := Range(first, last)
	if Frame(first) == Frame(last) {
		return "frame " + r
	}
	return "frames " + r
}

// Count writes a number of things: "1 frame", "8 spacings".
func Count(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return strconv.Itoa(n) + " " + thing + "s"
}

// Percent writes a share as a whole percentage, at least 1 when it is not nothing:
// "8 %".
func Percent(share float64) string {
	p := math.Round(share * 100)
	if p == 0 && share > 0.0005 {
		p = 1
	}
	return strconv.FormatFloat(p+0, 'f', 0, 64) + " %"
}

// Later says a difference in frames that is not nothing: "2 frames later", "1 frame
// sooner".
func Later(d float64) string {
	n := max(int(math.Round(math.Abs(d))), 1)
	if d < 0 {
		return Count(n, "frame") + " sooner"
	}
	return Count(n, "frame") + " later"
}

// List joins names the way people do: "brows, lids and eyes"; beyond most of them
// the rest is counted: "brows, lids and 3 more".
func List(names []string, most int) string {
	switch {
	case len(names) == 0:
		return ""
	case len(names) > most:
		return strings.Join(names[:most-1], ", ") + " and " + strconv.Itoa(len(names)-most+1) + " more"
	case len(names) == 1:
		return names[0]
	}
	return strings.Join(names[:len(names)-1], ", ") + " and " + names[len(names)-1]
}
