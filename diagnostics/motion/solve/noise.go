package solve

import (
	"math"
	"sync"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion/vec"
	"curvelint/parse/scene"
)

// ChannelNoise returns how far the channel's values may be from what was
// animated, in the channel's own unit: on a bake the larger of half a unit in
// its last printed decimal and 2^-23 of its largest magnitude in formats that
// store single precision, at most 0.1 % of its range; 0 for authored keys,
// whose digits are meant.
func (h *Hierarchy) ChannelNoise(id scene.ChannelID) float64 {
	h.noiseOnce.Do(func() { h.noise = make([]channelNoise, len(h.Scene.Channels)) })
	n := &h.noise[id]
	n.once.Do(func() { n.value = curveNoise(&h.Scene.Channels[id].Curve) })
	return n.value
}

// channelNoise is the noise of a channel, found once.
type channelNoise struct {
	once  sync.Once
	value float64
}

func curveNoise(c *scene.Curve) float64 {
	if !HasBake(c) {
		return 0
	}
	n := c.Step / 2
	if !c.Float32 && wideEnough(c, n) {
		return n
	}
	span, most := 0.0, 0.0
	if c.Single != nil {
		span, most = extent(c.Single, c.Stride)
	} else {
		span, most = extent(c.Values, c.Stride)
	}
	if c.Float32 {
		n = max(n, most*0x1p-23)
	}
	return min(n, span*noiseShare)
}

// noiseShare is the largest share of a channel's range that can be noise.
const noiseShare = 0.001

// wideEnough reports whether the range of the curve is so wide that noise may be its
// share; it looks no further than it must.
func wideEnough(c *scene.Curve, noise float64) bool {
	for j := range c.Stride {
		lo, hi := math.Inf(1), math.Inf(-1)
		for i := j; i < c.Numbers(); i += c.Stride {
			v := c.Value(i)
			lo, hi = min(lo, v), max(hi, v)
			if (hi-lo)*noiseShare >= noise {
				return true
			}
		}
	}
	return false
}

// extent returns the largest range of a component of keys of w values, and the
// largest magnitude.
func extent[T float32 | float64](values []T, w int) (span, most float64) {
	for j := range min(w, len(values)) {
		lo, hi := values[j], values[j]
		for i := j; i < len(values); i += w {
			v := values[i]
			if v < lo {
				lo = v
			}
			if v > hi {
				hi = v
			}
		}
		span = max(span, float64(hi)-float64(lo))
		most = max(most, math.Abs(float64(lo)), math.Abs(float64(hi)))
	}
	return span, most
}

// PositionNoise returns the noise of a point carried by part p, in scene units,
// the point being in the part's own frame:
// the noise of every channel of the part and its ancestors, an angle's through
// its lever arm (its distance from the point at rest, times the turn).
func (h *Hierarchy) PositionNoise(p scene.PartID, point r3.Vec) float64 {
	sum := 0.0
	at := h.WorldAt(p, h.First)
	tip := at.Point(point)
	for q := p; q != scene.NoPart; q = h.ParentInSpace(q) {
		if len(h.channels[q]) == 0 {
			continue
		}
		m := h.WorldAt(q, h.First)
		arm, unit := vec.Distance(m.Origin(), tip), m.Scale()
		for _, id := range h.channels[q] {
			sum += h.channelReach(id, arm, unit)
		}
	}
	return sum
}

// channelReach is how far a channel's noise moves a point at distance arm, in
// scene units; unit is the world length of the part's local unit.
func (h *Hierarchy) channelReach(id scene.ChannelID, arm, unit float64) float64 {
	n := h.ChannelNoise(id)
	if n == 0 {
		return 0
	}
	switch h.Scene.Channels[id].Quantity {
	case scene.Length:
		return n * unit
	case scene.Angle:
		return n * vec.Degree * arm
	case scene.Quaternion:
		return 2 * n * arm
	case scene.Factor:
		return n * arm
	case scene.Transform:
		return n * max(unit, arm)
	}
	return 0
}

// RotationNoise returns the noise of a part's own rotation in degrees.
func (h *Hierarchy) RotationNoise(p scene.PartID) float64 {
	sum := 0.0
	for _, id := range h.channels[p] {
		n := h.ChannelNoise(id)
		switch h.Scene.Channels[id].Quantity {
		case scene.Angle:
			sum += n
		case scene.Quaternion, scene.Transform:
			sum += 2 * n / vec.Degree
		}
	}
	return sum
}
