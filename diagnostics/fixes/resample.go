package fixes

import (
	"math"
	"sort"

	"curvelint/diagnostics/motion"
	"curvelint/diagnostics/motion/solve"
	"curvelint/parse/scene"
)

// warp maps frame indices to the frame indices whose pose is shown there.
type warp func(i float64) float64

// opChannels returns the channels of the op that a channel drives: those that
// must be re-timed together. A weight or free number is alone.
func opChannels(s *motion.Study, id scene.ChannelID) []scene.ChannelID {
	c := &s.Scene.Channels[id]
	if c.Op == scene.NoOp {
		return []scene.ChannelID{id}
	}
	var ids []scene.ChannelID
	for _, other := range s.Channels(c.Part) {
		if s.Scene.Channels[other].Op == c.Op {
			ids = append(ids, other)
		}
	}
	return ids
}

// keyOn returns the index of the key on a display frame.
func keyOn(c *scene.Curve, frame float64) (int, bool) {
	i := sort.SearchFloat64s(c.Times, frame-1e-6)
	return i, i < len(c.Times) && math.Abs(c.Times[i]-frame) <= 1e-6
}

// unchanging reports whether a curve has one value from frame index a to b.
func unchanging(s *motion.Study, c *scene.Curve, a, b int) bool {
	first, v := make([]float64, c.Stride), make([]float64, c.Stride)
	solve.EvalCurve(c, s.Frame(a), first)
	for i := a + 1; i <= b; i++ {
		solve.EvalCurve(c, s.Frame(i), v)
		for j := range v {
			if math.Abs(v[j]-first[j]) > c.Step/2 {
				return false
			}
		}
	}
	return true
}

// rewarp gives the keys of a channel on the frames strictly between the frame
// indices a and b the values that the channel has at the warped times.
func (p *pen) rewarp(s *motion.Study, id scene.ChannelID, a, b int, w warp) error {
	c := &s.Scene.Channels[id].Curve
	if unchanging(s, c, a, min(b, s.N-1)) {
		return nil
	}
	for i := a + 1; i < b; i++ {
		v := make([]float64, c.Stride)
		resample(s, c, w(float64(i)), a, min(b, s.N-1), v)
		if s.Scene.Channels[id].Quantity == scene.Quaternion {
			normalise(v)
		}
		if err := p.set(s, id, i, v); err != nil {
			return err
		}
	}
	return nil
}

// resample writes the value of a curve at the frame index t to dst: by the
// cubic through the four nearest frames within [a, b] (Lagrange), so that a
// bake between its frames stays smooth; fewer than four frames and steps of
// more than a half turn are taken as the curve itself runs.
func resample(s *motion.Study, c *scene.Curve, t float64, a, b int, dst []float64) {
	base := int(math.Floor(t))
	first := min(max(base-1, a), b-3)
	if t == float64(base) || first < a || !solve.HasBake(c) {
		solve.EvalCurve(c, s.Frame(0)+t, dst)
		return
	}
	var v [4][]float64
	for k := range v {
		v[k] = make([]float64, c.Stride)
		solve.EvalCurve(c, s.Frame(first+k), v[k])
	}
	u := t - float64(first)
	weights := [4]float64{
		-(u - 1) * (u - 2) * (u - 3) / 6, u * (u - 2) * (u - 3) / 2,
		-u * (u - 1) * (u - 3) / 2, u * (u - 1) * (u - 2) / 6,
	}
	for j := range dst {
		dst[j] = 0
		for k := range v {
			dst[j] += weights[k] * v[k][j]
		}
	}
}

// normalise makes a quaternion one of length 1.
func normalise(q []float64) {
	n := 0.0
	for _, x := range q {
		n += x * x
	}
	if n = math.Sqrt(n); n > 0 {
		for i := range q {
			q[i] /= n
		}
	}
}
