package server

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"curvelint/diagnostics/facts"
	"curvelint/diagnostics/motion"
	"curvelint/parse/scene"
)

// number writes a number in full but without noise: 12, 12.5.
func number(v float64) string { return string(appendNumber(nil, v)) }

// appendNumber appends what number returns.
func appendNumber(dst []byte, v float64) []byte {
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
func amount(q motion.Quality, v float64) string { return bare(q, v) + unitText(q) }

// bare writes a length of a track without its unit.
func bare(q motion.Quality, v float64) string { return string(appendBare(nil, q, v)) }

// appendBare appends what bare returns.
func appendBare(dst []byte, q motion.Quality, v float64) []byte {
	switch q {
	case motion.Rotation:
		return appendNumber2(dst, v)
	case motion.Value:
		return append(dst, number1(100*v)...)
	}
	return appendNumber2(dst, 100*v)
}

// unitText is the unit of a track's lengths.
func unitText(q motion.Quality) string {
	switch q {
	case motion.Rotation:
		return " degrees"
	case motion.Value:
		return " % of its range"
	}
	return " % of figure size"
}

// count writes a number of things.
func count(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return strconv.Itoa(n) + " " + thing + "s"
}

// frames writes a range of frame indices as display frames.
func frames(s *motion.Study, a, b int) string {
	return number(s.Frame(a)) + "-" + number(s.Frame(b))
}

// valueText writes the value of a channel's component at a key, and of the
// whole channel where it has few.
func valueText(c *scene.Channel, k *facts.Key, component int) string {
	if len(k.Values) == 0 {
		return c.Name + " has no value here"
	}
	unit := ""
	if c.Quantity == scene.Angle {
		unit = " degrees"
	}
	kind := "baked"
	if k.Authored {
		kind = "authored"
	}
	if len(k.Values) == 1 {
		return fmt.Sprintf("%s = %s%s (%s)", c.Name, number(k.Values[0]), unit, kind)
	}
	if len(k.Values) > 4 {
		return fmt.Sprintf("%s, element %d = %s (%s)", c.Name, component, number(k.Values[min(component, len(k.Values)-1)]), kind)
	}
	parts := make([]string, len(k.Values))
	for i, v := range k.Values {
		parts[i] = number(v)
	}
	return fmt.Sprintf("%s = (%s)%s (%s)", c.Name, strings.Join(parts, ", "), unit, kind)
}

// trackLines writes the place of a key on its i-th track.
func trackLines(s *motion.Study, k *facts.Key, i int) []string {
	o := &k.Tracks[i]
	q := o.Track.Quality
	name := map[motion.Quality]string{motion.Rotation: "turns", motion.Position: "shifts", motion.Value: "changes"}[q]
	if i > 0 || o.Track.Space == motion.World {
		name = "in space, the " + o.Track.Name + " travels"
	}
	text := name + " " + spacings(q, o.Before, o.After)
	if o.InMove && o.Move.PeakSpeed > 0 && !math.IsNaN(o.After) {
		text += fmt.Sprintf(" (%.0f %% of the move's peak speed)", 100*o.Speed/o.Move.PeakSpeed)
	}
	if o.OnTwos {
		text += ", on twos"
	} else {
		text += ", on ones"
	}
	lines := []string{text}
	switch {
	case o.InMove:
		lines = append(lines, "move "+moveText(s, &o.Move))
		if o.HasBreakdown && k.Index != o.Move.First && k.Index != o.Move.Last {
			lines = append(lines, breakdownText(s, o))
		}
	case o.InRest && o.Rest.Hold:
		lines = append(lines, "hold "+frames(s, o.Rest.First, o.Rest.Last))
	}
	return lines
}

// spacings writes the spacings before and after a frame; at the ends of the clip
// there is only one.
func spacings(q motion.Quality, before, after float64) string {
	switch {
	case math.IsNaN(before) && math.IsNaN(after):
		return "on this frame only"
	case math.IsNaN(before):
		return amount(q, after) + " after"
	case math.IsNaN(after):
		return amount(q, before) + " before"
	}
	return bare(q, before) + " before, " + amount(q, after) + " after"
}

// moveText writes a move in one line.
func moveText(s *motion.Study, m *facts.Move) string {
	text := fmt.Sprintf("%s: %s, peak at frame %s, ease in %s, ease out %s frames",
		frames(s, m.First, m.Last), amount(m.Track.Quality, m.Length), number(s.Frame(m.Peak)), number1(m.EaseIn), number1(m.EaseOut))
	if m.Track.Quality == motion.Position {
		text += fmt.Sprintf(", arc depth %.2f", m.ArcDepth)
	}
	return text
}

// briefMove writes a move in one line for a glance: amounts to three digits, eases in
// whole frames.
func briefMove(s *motion.Study, m *facts.Move) string {
	text := fmt.Sprintf("%s: %s, peak at frame %s, ease in %.0f, out %.0f frames",
		frames(s, m.First, m.Last), briefly(m.Track.Quality, m.Length), number(s.Frame(m.Peak)), m.EaseIn, m.EaseOut)
	if m.Track.Quality == motion.Position {
		text += fmt.Sprintf(", arc depth %.2f", m.ArcDepth)
	}
	return text
}

// runText writes how something mechanical runs: nobody asks for its eases, its arcs
// or whom it follows.
func runText(s *motion.Study, m *facts.Move) string {
	text := "mechanical, runs " + frames(s, m.First, m.Last) + ": " + briefly(m.Track.Quality, m.Length)
	if m.Even() {
		return text + ", evenly"
	}
	return text + ", fastest at frame " + number(s.Frame(m.Peak))
}

// briefly writes a length of a track in its unit, to three digits.
func briefly(q motion.Quality, v float64) string {
	if q != motion.Rotation {
		v *= 100
	}
	digits := 2
	for limit := 10.0; digits > 0 && math.Abs(v) >= limit; limit *= 10 {
		digits--
	}
	power := math.Pow(10, float64(digits))
	return strconv.FormatFloat(math.Round(v*power)/power, 'f', -1, 64) + unitText(q)
}

func number1(v float64) string {
	return strconv.FormatFloat(math.Round(v*10)/10, 'f', -1, 64)
}

// breakdownText says which extreme of its move a frame favours.
func breakdownText(s *motion.Study, o *facts.OnTrack) string {
	share := 100 * o.Breakdown
	favours := "half-way"
	switch {
	case share < 45:
		favours = "favours frame " + number(s.Frame(o.Move.First))
	case share > 55:
		favours = "favours frame " + number(s.Frame(o.Move.Last))
	}
	return fmt.Sprintf("breakdown %.0f %%, %s", share, favours)
}

// lagText says how a part follows its parent.
func lagText(lag float64) string {
	switch {
	case lag > 0.25:
		return number1(lag) + " frames behind its parent"
	case lag < -0.25:
		return number1(-lag) + " frames ahead of its parent"
	}
	return "together with its parent"
}

// startsText says who leads whom in a beat.
func startsText(starts []facts.GroupStart) string {
	parts := make([]string, len(starts))
	for i, g := range starts {
		parts[i] = g.Name
		if i > 0 {
			parts[i] += fmt.Sprintf(" +%d", g.After)
		}
	}
	return "order of starts: " + strings.Join(parts, ", ")
}

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
