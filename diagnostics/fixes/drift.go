package fixes

import (
	"math"
	"slices"
	"strings"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/body"
	"curvelint/diagnostics/motion/solve"
	"curvelint/diagnostics/note"
	"curvelint/diagnostics/words"
	"curvelint/parse/scene"
)

const (
	// driftSpeed is the peak speed of a drift in degrees per second: under the
	// 3 degrees per second from which on a turn counts as motion.
	driftSpeed = 2.0
	// driftMost bounds its amplitude in degrees.
	driftMost = 1.5
	// driftPeak is the largest slope of 64 u^3 (1-u)^3 on [0, 1].
	driftPeak = 3.435
	// driftParts is how many parts of a figure drift at most.
	driftParts = 4
)

// drift lets parts of a dead hold move a little and come back: each turns by
//
//	A 64 u^3 (1-u)^3, u = (share of the hold's time)^skew
//
// a slow move out and back whose speed and acceleration are zero at both ends
// (the shape of a minimum-jerk move), with an amplitude and a skew of its own,
// so that the parts do not drift as one. Nothing moves that carries a foot on
// the ground or a hand that holds on.
func drift(s *motion.Study, n *note.Note) (Fix, error) {
	f := Fix{ID: "drift", Title: "Let the hold drift", Preferred: true}
	a, b := s.Index(n.First), s.Index(n.Last)
	if n.PartID == scene.NoPart || b-a < 3 {
		return f, errNone
	}
	ink := pen{sc: s.Scene}
	most := min(driftMost, driftSpeed*float64(b-a)/s.Rate/driftPeak)
	var said []string
	for i, id := range driftChannels(s, n.PartID, a, b) {
		amplitude := most * [...]float64{1, 0.7, -0.85, 0.55}[i%4]
		skew := [...]float64{1, 0.8, 1.25, 0.9}[i%4]
		if err := ink.swing(s, id, a, b, amplitude, skew); err != nil {
			return f, err
		}
		said = append(said, s.Scene.Parts[s.Scene.Channels[id].Part].Name+" "+words.Degrees(math.Abs(amplitude)))
	}
	if len(said) == 0 && !written(s) {
		return f, errNone
	}
	if len(said) == 0 {
		return f, refuse("no part that is free to move has keys here: the others carry a contact")
	}
	f.Title += ": " + strings.Join(said, ", ")
	f.Numbers = span(s, a, b) + ", out and back: " + strings.Join(said, ", ")
	var err error
	if f.Edits, err = ink.done(); err == errNone {
		err = refuse("the export has too few decimals for so small a drift")
	}
	return f, err
}

// swing turns a channel out and back between the frame indices a and b.
func (p *pen) swing(s *motion.Study, id scene.ChannelID, a, b int, amplitude, skew float64) error {
	c := &s.Scene.Channels[id].Curve
	for i := a + 1; i < b; i++ {
		u := math.Pow(float64(i-a)/float64(b-a), skew)
		turn := amplitude * 64 * u * u * u * (1 - u) * (1 - u) * (1 - u)
		v := make([]float64, c.Stride)
		solve.EvalCurve(c, s.Frame(i), v)
		if err := p.set(s, id, i, turned(v, turn)); err != nil {
			return err
		}
	}
	return nil
}

// turned returns a value turned by an angle in degrees: an angle plus it, a
// quaternion times a turn about X.
func turned(v []float64, degrees float64) []float64 {
	if len(v) != 4 {
		v[0] += degrees
		return v
	}
	sin, cos := math.Sincos(degrees * math.Pi / 360)
	return []float64{v[0]*cos - v[1]*sin, v[0]*sin + v[1]*cos, v[2]*cos + v[3]*sin, v[3]*cos - v[2]*sin}
}

// driftChannels returns the channels that may drift when a part holds from
// frame index a to b, one for each part: of the part itself and, for a whole
// figure, of the parts of its trunk, head and arms.
func driftChannels(s *motion.Study, part scene.PartID, a, b int) []scene.ChannelID {
	fig := s.FigureOf(part)
	if fig == nil || part != fig.Root {
		if id, ok := turningChannel(s, part, a, b); ok {
			return []scene.ChannelID{id}
		}
		return nil
	}
	var ids []scene.ChannelID
	add := func(p scene.PartID) {
		if len(ids) == driftParts || contactBelow(s, p, a, b) != "" {
			return
		}
		if id, ok := turningChannel(s, p, a, b); ok && !slices.Contains(ids, id) {
			ids = append(ids, id)
		}
	}
	for _, kind := range []body.Body{body.Head, body.Chest, body.Neck, body.Hips, body.Arm} {
		for _, p := range fig.Parts {
			l := fig.LabelOf(p)
			if l.Body == kind && (kind != body.Arm || l.Place == body.Upper) {
				add(p)
			}
		}
	}
	for i := len(fig.Parts) - 1; i >= 0 && len(ids) == 0; i-- {
		add(fig.Parts[i]) // a body without names
	}
	return ids
}

// written reports whether any key of a scene is written as text.
func written(s *motion.Study) bool {
	return slices.ContainsFunc(s.Scene.Channels, func(c scene.Channel) bool { return c.Curve.Spans != nil })
}

// turningChannel returns the channel that turns a part most over the clip and
// can be given values on every frame from a to b.
func turningChannel(s *motion.Study, part scene.PartID, a, b int) (scene.ChannelID, bool) {
	best, most := scene.NoChannel, 0.0
	for _, id := range s.Channels(part) {
		c := &s.Scene.Channels[id]
		turns := c.Quantity == scene.Angle && c.Curve.Stride == 1 || c.Quantity == scene.Quaternion
		if !turns || c.Op == scene.NoOp || c.Curve.Spans == nil || !settable(s, id, a, b) {
			continue
		}
		if r := rangeOf(&c.Curve); r > most {
			best, most = id, r
		}
	}
	return best, best != scene.NoChannel
}

// settable reports whether a channel has a key on each frame index strictly
// between a and b, or can be given one.
func settable(s *motion.Study, id scene.ChannelID, a, b int) bool {
	for i := a + 1; i < b; i++ {
		if _, ok := keyOn(&s.Scene.Channels[id].Curve, s.Frame(i)); !ok && !canInsert(s, id, i) {
			return false
		}
	}
	return true
}

// rangeOf returns how far the values of a curve are apart.
func rangeOf(c *scene.Curve) float64 {
	most := 0.0
	for j := range c.Stride {
		lo, hi := math.Inf(1), math.Inf(-1)
		for i := j; i < c.Numbers(); i += c.Stride {
			lo, hi = min(lo, c.Value(i)), max(hi, c.Value(i))
		}
		most = max(most, hi-lo)
	}
	return most
}
