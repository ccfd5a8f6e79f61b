package words

import "strings"

// Spacing writes the way from one frame to the next: "4.66 % of figure size",
// "0.70 degrees". Spacings have three digits, since an even run and one that eases
// differ in the second and third.
func Spacing(unit string, v float64) string {
	return string(AppendSpacing(nil, unit, v)) + units[unit].name
}

// AppendSpacing appends a spacing without its unit: "4.66", "12.3", "158", "0".
func AppendSpacing(dst []byte, unit string, v float64) []byte {
	v *= Times(unit)
	decimals := spacingDecimals(v)
	return appendDecimal(dst, v, decimals, v >= 0.5/powers[decimals])
}

// ShortSpacing writes a spacing where there is little room: "4.66 %", "0.70°".
func ShortSpacing(unit string, v float64) string {
	return string(AppendSpacing(nil, unit, v)) + units[unit].short
}

// spacingDecimals leaves three digits of a number, of which two behind the point at
// most.
func spacingDecimals(v float64) int {
	switch {
	case v < 9.995:
		return 2
	case v < 99.95:
		return 1
	}
	return 0
}

// Row writes the first spacings of a row, with as many decimals as the largest of
// them needs and without the unit: "2.10 3.90 5.10 ...". Most is how many are
// written, 0 for all.
func Row(unit string, spacings []float64, most int) string {
	largest := 0.0
	for _, v := range spacings {
		largest = max(largest, v*Times(unit))
	}
	decimals := spacingDecimals(largest)
	var b strings.Builder
	for i, v := range spacings {
		if most > 0 && i == most {
			b.WriteString(" ...")
			break
		}
		if i > 0 {
			b.WriteByte(' ')
		}
		b.WriteString(padded(v*Times(unit), decimals))
	}
	return b.String()
}
