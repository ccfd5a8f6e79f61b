package show

import (
	"math"
	"strings"

	"curvelint/diagnostics/facts"
)

// blocks are bars of eight heights.
var blocks = []rune("▁▂▃▄▅▆▇█")

// longestBars bounds a row of bars.
const longestBars = 48

// spacingBars draws the spacings of the move around frame index i, those
// before and after it parted by a stroke.
func spacingBars(o *facts.OnTrack, i int) string {
	if !o.InMove {
		return ""
	}
	v := o.Track.Spacing()
	first, last := o.Move.First, o.Move.Last
	if last-first > longestBars {
		first = max(first, min(i-longestBars/2, last-longestBars))
		last = first + longestBars
	}
	most := 0.0
	for _, x := range v[first:last] {
		most = max(most, x)
	}
	if most == 0 {
		return ""
	}
	var b strings.Builder
	for j := first; j < last; j++ {
		if j == i {
			b.WriteRune('|')
		}
		b.WriteRune(bar(v[j], most))
	}
	return b.String()
}

// bar returns the bar for a share of the whole.
func bar(v, most float64) rune {
	i := int(math.Round(v / most * float64(len(blocks)-1)))
	return blocks[min(max(i, 0), len(blocks)-1)]
}
