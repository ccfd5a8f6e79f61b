package fixes

import (
	"fmt"
	"math"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
	"curvelint/diagnostics/words"
	"curvelint/parse/scene"
)

// unwrap takes whole turns out of a jump of an angle, or the change of sign out
// of a quaternion: all keys behind the jump are shifted by the same whole turns
// (given the other sign), so that every pose stays as it is and only the way
// between the two frames changes.
func unwrap(s *motion.Study, n *note.Note) (Fix, error) {
	f := Fix{ID: "unwrap", Title: "Unwrap the angle", Preferred: true}
	if n.Channel == scene.NoChannel {
		return f, errNone
	}
	ink := pen{sc: s.Scene}
	said := ""
	for _, id := range opChannels(s, n.Channel) {
		c := &s.Scene.Channels[id]
		key, ok := keyOn(&c.Curve, n.Last)
		if !ok || key == 0 {
			continue
		}
		text, err := ink.unwrapFrom(id, key)
		if err != nil {
			return f, err
		}
		if text != "" {
			said = text
		}
	}
	if said == "" {
		return f, refuse("no angle jumps by a whole turn here; the pose itself changes, look at the keys on both frames")
	}
	f.Title += ": " + said
	f.Numbers = span(s, s.Index(n.Last), s.N-1) + ": " + said
	var err error
	f.Edits, err = ink.done()
	return f, err
}

// unwrapFrom shifts the keys of a channel from one key on and says how.
func (p *pen) unwrapFrom(id scene.ChannelID, key int) (string, error) {
	c := &p.sc.Channels[id]
	k := &c.Curve
	switch {
	case c.Quantity == scene.Angle && k.Stride == 1:
		turns := math.Round((k.Value(key) - k.Value(key-1)) / 360)
		if turns == 0 {
			return "", nil
		}
		for i := key; i < k.Len(); i++ {
			if err := p.put(id, i, []float64{k.Value(i) - 360*turns}); err != nil {
				return "", err
			}
		}
		return fmt.Sprintf("%s %s degrees from frame %s on", c.Name, words.Signed(-360*turns), words.Frame(k.Times[key])), nil
	case c.Quantity == scene.Quaternion:
		dot := 0.0
		for j := range 4 {
			dot += k.Value(4*key+j) * k.Value(4*key-4+j)
		}
		if dot >= 0 || k.Handles != nil {
			return "", nil // handles would have to change their sign too
		}
		for i := key; i < k.Len(); i++ {
			q := keyRow(k, i)
			if err := p.put(id, i, []float64{-q[0], -q[1], -q[2], -q[3]}); err != nil {
				return "", err
			}
		}
		return fmt.Sprintf("%s with the other sign from frame %s on", c.Name, words.Frame(k.Times[key])), nil
	}
	return "", nil
}
