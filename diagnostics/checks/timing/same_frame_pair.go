package timing

import (
	"fmt"
	"math"

	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/body"
	"curvelint/diagnostics/motion/track"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
)

// sameFramePair reports a leader and its follower that change on the same frames
// throughout the clip, unless a note on whole beats says so already.
func sameFramePair(c *kit.Context, fig *motion.Figure, lead, follow body.Body, beats []note.Note) []note.Note {
	a, b := fig.Group(lead.String()), fig.Group(follow.String())
	if a == nil || b == nil {
		return nil
	}
	first, last := c.Study.JudgedRange()
	ea, ta := a.EventsIn(first, last)
	eb, tb := b.EventsIn(first, last)
	matched := matchEvents(c, ta, tb, ea, eb)
	n := len(matched)
	few, many := min(len(ea), len(eb)), max(len(ea), len(eb))
	// The follower may do other things as well (lids blink), but when those are
	// most of what it does, meeting the leader is chance.
	if n < int(sameFrameMinPairEvents.In(c)) || float64(n) < sameFrameShare.In(c)*float64(few) || float64(n) < sameFrameMostly.Value*float64(many) {
		return nil
	}
	for _, m := range beats {
		if causedBy(m, ta.Part) && causedBy(m, tb.Part) {
			return nil
		}
	}
	return []note.Note{pairNote(c, fig, [2]*motion.Group{a, b}, [2]*track.Track{ta, tb}, matched, few)}
}

// matchEvents returns the frames of the events of a that b has too, of the same
// kind and within the window.
func matchEvents(c *kit.Context, ta, tb *track.Track, a, b []track.Event) []int {
	width := 2*sameFrameWindow.In(c)*c.Study.Rate - apart.Value
	var out []int
	j := 0
	for _, e := range a {
		for j < len(b) && e.Frame-b[j].Frame > int(width)+1 {
			j++
		}
		at := ta.EventTime(e)
		for k := j; k < len(b) && b[k].Frame-e.Frame <= int(width)+1; k++ {
			if b[k].Kind == e.Kind && math.Abs(tb.EventTime(b[k])-at) <= width {
				out = append(out, e.Frame)
				break
			}
		}
	}
	return out
}

// causedBy reports whether a note explains what the part does.
func causedBy(n note.Note, p scene.PartID) bool {
	for _, q := range n.Causes {
		if q == p {
			return true
		}
	}
	return false
}

// pairNote sits on the higher of the two parts and shows where the other one
// changes with it.
func pairNote(c *kit.Context, fig *motion.Figure, g [2]*motion.Group, t [2]*track.Track, matched []int, of int) note.Note {
	top, other := 0, 1
	if t[1].Part < t[0].Part && c.Study.IsAncestor(t[1].Part, t[0].Part) {
		top, other = 1, 0 // one note at the highest part
	}
	first, last := matched[0], matched[len(matched)-1]
	ch := kit.Driver(c, t[top], first)
	n := c.Draft(t[top].Part, ch, first, last)
	n.Related = nil
	n.Message = fmt.Sprintf("%s: %s and %s change together, %d of %d times; let the %s follow by 1-3 frames",
		c.Span(first, last), g[0].Name, g[1].Name, len(matched), of, g[1].Name)
	travel := 0.0
	for _, i := range matched {
		travel = math.Max(travel, beatTravel(t[0], i)+beatTravel(t[1], i))
		if ch := kit.Driver(c, t[other], i); ch != scene.NoChannel {
			c.Relate(&n, ch, i, "%s change here too", g[other].Name)
		}
	}
	n.Weight = c.Weigh(fig, t[top].Part, travel)
	n.Causes = []scene.PartID{t[0].Part, t[1].Part}
	n.Measures = []note.Measure{
		{Name: "together", Value: float64(len(matched)), Unit: "count"},
		{Name: "events", Value: float64(of), Unit: "count"},
	}
	return n
}
