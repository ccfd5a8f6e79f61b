package noise

import (
	_ "embed"
	"fmt"
	"math"

	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/motion/solve"
	"curvelint/diagnostics/note"
	"curvelint/diagnostics/words"
	"curvelint/parse/scene"
)

//go:embed sub_frame_key.md
var subFrameKeyDoc string

// The settings of sub-frame-key.
var (
	subFrameKeyTolerance = kit.Number{Name: "tolerance", Unit: "frames", Default: 0.01, Min: 0, Max: 0.5, Doc: "how far off a whole frame a key may lie"}
)

// SubFrameKey finds keys that lie between whole frames.
var SubFrameKey = &kit.Check{
	ID:       "sub-frame-key",
	Severity: note.Hint,
	Group:    kit.Noise,
	Title:    "a key no frame shows",
	Doc:      subFrameKeyDoc,
	Settings: []kit.Setting{&subFrameKeyTolerance},
	Run:      runSubFrameKey,
}

func runSubFrameKey(c *kit.Context) []note.Note {
	s := c.Study
	tolerance := subFrameKeyTolerance.In(c)
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
			if at := s.Index(t); at >= lo && at <= hi && solve.Authored(&x.Curve, i) {
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
		n := c.Draft(x.Part, scene.ChannelID(id), s.Index(t), s.Index(t))
		n.Span, n.First, n.Last = s.Scene.KeySpan(scene.ChannelID(id), first, 0), t, t
		more := ""
		if count > 1 {
			more = fmt.Sprintf(" and %d more", count-1)
		}
		n.Message = fmt.Sprintf("frame %s%s: %s %s has a key between frames, which no frame shows; move it to a whole frame", words.Frame(t), more, c.Name(x.Part), x.Name)
		n.Measures = []note.Measure{{Name: "keys", Value: float64(count), Unit: "count"}}
		notes = append(notes, n)
	}
	return notes
}
