package show

import (
	"fmt"
	"math"
	"strings"

	"curvelint/diagnostics/facts"
	"curvelint/diagnostics/motion"
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
		return fmt.Sprintf("%s = %s%s (%s)", c.Name, Number(k.Values[0]), unit, kind)
	}
	if len(k.Values) > 4 {
		return fmt.Sprintf("%s, element %d = %s (%s)", c.Name, component, Number(k.Values[min(component, len(k.Values)-1)]), kind)
	}
	parts := make([]string, len(k.Values))
	for i, v := range k.Values {
		parts[i] = Number(v)
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

// breakdownText says which extreme of its move a frame favours.
func breakdownText(s *motion.Study, o *facts.OnTrack) string {
	share := 100 * o.Breakdown
	favours := "half-way"
	switch {
	case share < 45:
		favours = "favours frame " + Number(s.Frame(o.Move.First))
	case share > 55:
		favours = "favours frame " + Number(s.Frame(o.Move.Last))
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
