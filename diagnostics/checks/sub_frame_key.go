package checks

import (
	_ "embed"
	"fmt"
	"math"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
)

//go:embed sub_frame_key.md
var subFrameKeyDoc string

// SubFrameKey finds keys that lie between whole frames.
var SubFrameKey = &Check{
	ID:       "sub-frame-key",
	Severity: note.Hint,
	Group:    Noise,
	Title:    "a key no frame shows",
	Doc:      subFrameKeyDoc,
	Settings: []Setting{
		{Name: "tolerance", Unit: "frames", Default: 0.01, Min: 0, Max: 0.5, Doc: "how far off a whole frame a key may lie"},
	},
	Run: runSubFrameKey,
}

func runSubFrameKey(c *Context) []note.Note {
	s := c.Study
	tolerance := c.Setting("tolerance")
	lo, hi := s.JudgedRange()   // a note counts the keys of the range
	whole := map[*float64]int{} // columns of times that channels share: how many of them are whole
	var notes []note.Note
	for id := range s.Scene.Channels {
		x := &s.Scene.Channels[id]
		if c.Ctx.Err() != nil {
			return nil
		}
		if n := x.Curve.Len(); n == 0 || whole[&x.Curve.Times[0]] >= n {
			continue
		}
		count, first, between := 0, -1, false
		for i, t := range x.Curve.Times {
			if math.Abs(t-math.Round(t)) <= tolerance {
				continue
			}
			between = true
			if at := s.Index(t); at >= lo && at <= hi && motion.Authored(&x.Curve, i) {
				if first < 0 {
					first = i
				}
				count++
			}
		}
		if !between {
			whole[&x.Curve.Times[0]] = x.Curve.Len()
		}
		// A component of a vector stands for its siblings: they share the key.
		if count == 0 || sharesTimes(s, scene.ChannelID(id)) {
			continue
		}
		t := x.Curve.Times[first]
		n := c.draft(x.Part, scene.ChannelID(id), s.Index(t), s.Index(t))
		n.Span, n.First, n.Last = s.Scene.KeySpan(scene.ChannelID(id), first, 0), t, t
		more := ""
		if count > 1 {
			more = fmt.Sprintf(" and %d more", count-1)
		}
		n.Message = fmt.Sprintf("frame %s%s: %s %s has a key between frames, which no frame shows; move it to a whole frame", frameNumber(t), more, c.name(x.Part), x.Name)
		n.Measures = []note.Measure{{Name: "keys", Value: float64(count), Unit: "count"}}
		notes = append(notes, n)
	}
	return notes
}

// sharesTimes reports whether the channel before belongs to the same op and has
// the same keys.
func sharesTimes(s *motion.Study, id scene.ChannelID) bool {
	if id == 0 {
		return false
	}
	a, b := &s.Scene.Channels[id-1], &s.Scene.Channels[id]
	return a.Part == b.Part && a.Op == b.Op && a.Op != scene.NoOp && a.Curve.Len() == b.Curve.Len() && &a.Curve.Times[0] == &b.Curve.Times[0]
}
