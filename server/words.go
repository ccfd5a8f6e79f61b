package server

import (
	"fmt"
	"math"
	"strings"

	"curvelint/diagnostics/facts"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/track"
	"curvelint/diagnostics/words"
	"curvelint/parse/scene"
)

// frames writes a range of frame indices as display frames.
func frames(s *motion.Study, a, b int) string { return words.Between(s.Frame(a), s.Frame(b)) }

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
		return fmt.Sprintf("%s = %s%s (%s)", c.Name, words.Number(k.Values[0]), unit, kind)
	}
	if len(k.Values) > 4 {
		return fmt.Sprintf("%s, element %d = %s (%s)", c.Name, component, words.Number(k.Values[min(component, len(k.Values)-1)]), kind)
	}
	parts := make([]string, len(k.Values))
	for i, v := range k.Values {
		parts[i] = words.Number(v)
	}
	return fmt.Sprintf("%s = (%s)%s (%s)", c.Name, strings.Join(parts, ", "), unit, kind)
}

// trackLines writes the place of a key on its i-th track.
func trackLines(s *motion.Study, k *facts.Key, i int) []string {
	o := &k.Tracks[i]
	name := map[track.Quality]string{track.Rotation: "turns", track.Position: "shifts", track.Value: "changes"}[o.Track.Quality]
	if i > 0 || o.Track.Space == track.World {
		name = "in space, the " + o.Track.Name + " travels"
	}
	text := name + " " + spacings(facts.UnitOf(o.Track), o.Before, o.After)
	if o.InMove && o.Move.PeakSpeed > 0 && !math.IsNaN(o.After) {
		text += " (" + words.Percent(o.Speed/o.Move.PeakSpeed) + " of the move's peak speed)"
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
func spacings(unit string, before, after float64) string {
	switch {
	case math.IsNaN(before) && math.IsNaN(after):
		return "on this frame only"
	case math.IsNaN(before):
		return words.Spacing(unit, after) + " after"
	case math.IsNaN(after):
		return words.Spacing(unit, before) + " before"
	}
	return string(words.AppendSpacing(nil, unit, before)) + " before, " + words.Spacing(unit, after) + " after"
}

// moveText writes a move in one line.
func moveText(s *motion.Study, m *facts.Move) string {
	text := fmt.Sprintf("%s: %s, peak at frame %s, %s, %s", frames(s, m.First, m.Last), words.Amount(facts.UnitOf(m.Track), m.Length),
		words.Frame(s.Frame(m.Peak)), words.Leaves(m.Leave), words.Arrives(m.Arrive))
	if m.Track.Quality == track.Position {
		text += ", arc depth " + words.Ratio(m.ArcDepth)
	}
	return text
}

// runText writes how something mechanical runs: nobody asks how it leaves and
// arrives, for its arcs or whom it follows.
func runText(s *motion.Study, m *facts.Move) string {
	text := "mechanical, runs " + frames(s, m.First, m.Last) + ": " + words.Amount(facts.UnitOf(m.Track), m.Length)
	if m.Even() {
		return text + ", evenly"
	}
	return text + ", fastest at frame " + words.Frame(s.Frame(m.Peak))
}

// breakdownText says which extreme of its move a frame favours.
func breakdownText(s *motion.Study, o *facts.OnTrack) string {
	favours := "half-way"
	switch {
	case o.Breakdown < 0.45:
		favours = "favours frame " + words.Frame(s.Frame(o.Move.First))
	case o.Breakdown > 0.55:
		favours = "favours frame " + words.Frame(s.Frame(o.Move.Last))
	}
	return "breakdown " + words.Percent(o.Breakdown) + ", " + favours
}

// startsText says who leads whom in a beat.
func startsText(starts []facts.GroupStart) string {
	names, after := make([]string, len(starts)), make([]float64, len(starts))
	for i, g := range starts {
		names[i], after[i] = g.Name, float64(g.After)
	}
	return "order of starts: " + words.Follow(names, after)
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
