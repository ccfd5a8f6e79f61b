package x3d

import (
	"math"

	"curvelint/parse/scene"
)

// curves returns the curves of a motion as a clock plays it: one for each
// component, or one of quaternions. Motions of all targets share them.
func (t *timing) curves(p played) []scene.Curve {
	m := p.motion
	frames := t.frames(p)
	if len(frames) == 0 {
		return nil
	}
	curves := make([]scene.Curve, len(m.values))
	for j := range curves {
		curves[j] = scene.Curve{
			Times: frames, Values: m.values[j], Stride: m.stride(),
			Spans: m.spans[j], SpanStride: 1, Step: m.step[j], Float32: true,
		}
		if m.tangents != nil {
			curves[j].Default = scene.Bezier
			curves[j].Handles = m.tangents.handles(j)
		}
	}
	if hasEqual(frames) {
		t.part(p, curves)
	}
	t.repeat(p, curves)
	return curves
}

// handles returns the handles of component j. A tangent is the derivative by
// the share of the segment, and a handle reaches over a third of it.
func (t *tangents) handles(j int) *scene.Handles {
	h := &scene.Handles{OutV: make([]float64, len(t.out[j])), InV: make([]float64, len(t.in[j]))}
	for i, v := range t.out[j] {
		h.OutV[i] = v / 3
	}
	for i, v := range t.in[j] {
		h.InV[i] = -v / 3
	}
	return h
}

func hasEqual(frames []float64) bool {
	for i := 1; i < len(frames); i++ {
		if frames[i] <= frames[i-1] {
			return true
		}
	}
	return false
}

// part takes apart the keys that lie on one frame, where the motion jumps: a
// number gets its value before the jump beside the one after it, a quaternion
// a key just behind the first.
func (t *timing) part(p played, curves []scene.Curve) {
	for j := range curves {
		if c := &curves[j]; c.Stride == 1 {
			mergeEqual(c)
		} else {
			moveApart(c)
		}
	}
	// All components have the same new times; keep one column of them.
	for j := 1; j < len(curves); j++ {
		curves[j].Times = curves[0].Times
	}
}

// mergeEqual joins keys at equal times: the first one's value counts just
// before that time, the last one's from it on.
func mergeEqual(c *scene.Curve) {
	n := 0
	times := make([]float64, 0, len(c.Times))
	values, before := make([]float64, 0, len(c.Times)), make([]float64, 0, len(c.Times))
	spans := make([]uint32, 0, len(c.Times))
	var handles scene.Handles
	for i, at := range c.Times {
		if n > 0 && at <= times[n-1] {
			values[n-1], spans[n-1] = c.Values[i], c.Spans[i]
			if c.Handles != nil {
				handles.OutV[n-1] = c.Handles.OutV[i]
			}
			continue
		}
		times, spans = append(times, at), append(spans, c.Spans[i])
		values, before = append(values, c.Values[i]), append(before, c.Values[i])
		if c.Handles != nil {
			handles.OutV = append(handles.OutV, c.Handles.OutV[i])
			handles.InV = append(handles.InV, c.Handles.InV[i])
		}
		n++
	}
	c.Times, c.Values, c.PreValues, c.Spans = times, values, before, spans
	if c.Handles != nil {
		c.Handles = &handles
	}
}

// apart is how far a key is put behind the one at the same time, in frames.
const apart = 1e-6

// moveApart puts each key that does not lie behind the one before it a small
// step behind it.
func moveApart(c *scene.Curve) {
	times := append([]float64(nil), c.Times...)
	for i := 1; i < len(times); i++ {
		if times[i] <= times[i-1] {
			times[i] = times[i-1] + max(apart, 1e-15*math.Abs(times[i-1]))
		}
	}
	c.Times = times
}

// repeat says how the curves go on behind the clock's cycle, where the shot is
// longer than it.
func (t *timing) repeat(p played, curves []scene.Curve) {
	m := p.motion
	if !t.clocks[p.clock].loop || m.times[0] != 0 || m.times[len(m.times)-1] != 1 {
		return
	}
	for j := range curves {
		curves[j].Post = scene.LoopReset
	}
}
