package fixes

import (
	"math"
	"strconv"
	"strings"

	"curvelint/diagnostics/facts"
	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/note"
	"curvelint/diagnostics/words"
	"curvelint/parse/scene"
)

// smooth puts the one frame that jumps onto the cubic through the two keys on
// each side of it (Lagrange): every channel of the driver's op.
func smooth(s *motion.Study, n *note.Note) (Fix, error) {
	f := Fix{ID: "smooth", Title: "Smooth this frame", Preferred: true}
	if n.Channel == scene.NoChannel || n.First != n.Last {
		return f, errNone // a jump that stays is no one frame's fault
	}
	ink := pen{sc: s.Scene}
	var said []string
	for _, id := range opChannels(s, n.Channel) {
		c := &s.Scene.Channels[id].Curve
		key, ok := keyOn(c, n.First)
		if !ok {
			continue // nothing is keyed there
		}
		if key < 2 || key+2 >= c.Len() {
			return f, refuse("the frame has not two keys on each side")
		}
		v := throughNeighbours(c, key)
		if s.Scene.Channels[id].Quantity == scene.Quaternion {
			normalise(v)
		}
		said = append(said, change(&s.Scene.Channels[id], keyRow(c, key), v)...)
		if err := ink.put(id, key, v); err != nil {
			return f, err
		}
	}
	var err error
	if f.Edits, err = ink.done(); err != nil {
		return f, err
	}
	if t := facts.TrackOf(s, n.Channel); t != nil {
		i := s.Index(n.First)
		a, b := max(0, i-2), min(s.N-1, i+2)
		f.Before, f.Unit = t.Spacing()[a:b], facts.UnitOf(t)
		f.After = bridged(f.Before)
	}
	if len(said) > 0 {
		f.Title += ": " + strings.Join(said[:min(len(said), 3)], ", ")
		f.Numbers = span(s, s.Index(n.First), s.Index(n.First)) + ": " + strings.Join(said, ", ")
	}
	return f, nil
}

// throughNeighbours returns the value at a key of the cubic through the two
// keys on each side.
func throughNeighbours(c *scene.Curve, key int) []float64 {
	v := make([]float64, c.Stride)
	near := [4]int{key - 2, key - 1, key + 1, key + 2}
	for _, i := range near {
		weight := 1.0
		for _, j := range near {
			if i != j {
				weight *= (c.Times[key] - c.Times[j]) / (c.Times[i] - c.Times[j])
			}
		}
		for k := range v {
			v[k] += weight * c.Value(i*c.Stride+k)
		}
	}
	return v
}

// bridged returns spacings whose middle two are replaced by their share of the
// way between the outer ones: what is left when a jump there and back is gone.
func bridged(v []float64) []float64 {
	out := append([]float64(nil), v...)
	if len(out) == 4 {
		out[1], out[2] = out[0]+(out[3]-out[0])/3, out[0]+2*(out[3]-out[0])/3
	}
	return out
}

// change words a new value: "rotateXYZ.x 12.5 to 6.4".
func change(c *scene.Channel, old, v []float64) []string {
	var said []string
	for j := range v {
		if math.Abs(v[j]-old[j]) <= c.Curve.Step/2 {
			continue
		}
		name := c.Name
		if len(v) > 1 {
			name += "[" + strconv.Itoa(j) + "]"
		}
		said = append(said, name+" "+words.Value(old[j])+" to "+words.Value(v[j]))
	}
	return said
}
