package show

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
