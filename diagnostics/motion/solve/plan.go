package solve

import (
	"sort"

	"curvelint/parse/scene"
)

// input is where one run of an op's components comes from.
type input struct {
	curve     *scene.Curve
	channel   scene.ChannelID
	component int
	// fallback is what frames without a value take, the op's static value.
	fallback []float64
	// everyFrame is true when the curve has a key on every frame of the clip and
	// none between them; that of frame index i is key base+i.
	everyFrame bool
	base       int
}

// opPlan is a transform op made ready for evaluation.
type opPlan struct {
	op     *scene.Op
	inputs []input // empty for a static op
	value  []float64
}

// partPlan is how the local transform of one part is evaluated.
type partPlan struct {
	ops      []opPlan
	animated bool   // some op has a channel
	static   Affine // the local transform when not animated
	rigid    *rigid // of an animated part that only turns and shifts, else nil
}

// plan compiles the transform stacks of all parts for the frames of the clip.
func (h *Hierarchy) plan() []partPlan {
	sc := h.Scene
	plans := make([]partPlan, len(sc.Parts))
	for i := range sc.Parts {
		p := &sc.Parts[i]
		plans[i].ops = make([]opPlan, len(p.Ops))
		for j := range p.Ops {
			op := &p.Ops[j]
			value := op.Value
			if w := op.Kind.Width(); len(value) < w {
				value = append(append(make([]float64, 0, w), value...), restValue(op.Kind)[len(value):]...)
			}
			plans[i].ops[j] = opPlan{op: op, value: value}
		}
	}
	for id := range sc.Channels {
		c := &sc.Channels[id]
		if c.Op < 0 || c.Op >= len(sc.Parts[c.Part].Ops) || c.Curve.Len() == 0 {
			continue
		}
		o := &plans[c.Part].ops[c.Op]
		if c.Component+c.Curve.Stride > o.op.Kind.Width() {
			continue
		}
		if Constant(&c.Curve) {
			o.value = append([]float64(nil), o.value...)
			c.Curve.Row(0, o.value[c.Component:])
			continue
		}
		o.inputs = append(o.inputs, input{curve: &c.Curve, channel: scene.ChannelID(id), component: c.Component})
		plans[c.Part].animated = true
	}
	for i := range plans {
		plans[i].static = identity
		for _, o := range plans[i].ops {
			applyOp(&plans[i].static, o.op.Kind, o.op.Inverse, o.value)
		}
	}
	h.sealPlans(plans)
	return plans
}

// sealPlans notes of every input how its keys lie on the frames of the clip, and
// compiles the stacks that only turn and shift.
func (h *Hierarchy) sealPlans(plans []partPlan) {
	dense := denseTimes{}
	for i := range plans {
		p := &plans[i]
		if !p.animated {
			continue
		}
		for j := range p.ops {
			o := &p.ops[j]
			for k := range o.inputs {
				in := &o.inputs[k]
				in.fallback = o.value[in.component : in.component+in.curve.Stride]
				in.base, in.everyFrame = dense.find(in.curve.Times, h.First, h.N)
			}
		}
		p.rigid = rigidPlan(p.ops)
	}
}

// denseTimes remembers for columns of times, which curves share, which key lies
// on the first frame of a clip that has a key on every frame; -1 for others.
type denseTimes map[*float64]int

func (d denseTimes) find(times []float64, first float64, n int) (base int, whole bool) {
	if n == 0 || len(times) < n {
		return 0, false
	}
	base, known := d[&times[0]]
	if !known {
		base = sort.SearchFloat64s(times, first)
		if base+n > len(times) || !wholeFrames(times[base:base+n], first) {
			base = -1
		}
		d[&times[0]] = base
	}
	return base, base >= 0 && base+n <= len(times)
}

// Constant reports whether a curve has one and the same value at all times, so
// that a part which an exporter baked without moving it counts as still.
func Constant(c *scene.Curve) bool {
	w := c.Stride
	if c.Handles != nil || c.PreValues != nil || c.Pre != scene.ExtrapHeld || c.Post != scene.ExtrapHeld {
		return false
	}
	if c.Single != nil {
		return repeats(c.Single, w)
	}
	return repeats(c.Values, w)
}

// repeats reports whether all keys of w values are the same.
func repeats[T float32 | float64](values []T, w int) bool {
	for i := w; i < len(values); i++ {
		if values[i] != values[i-w] {
			return false
		}
	}
	return true
}

// restValue gives the components at which an op does nothing.
func restValue(k scene.OpKind) []float64 {
	v := make([]float64, k.Width())
	switch k {
	case scene.Scale:
		v[0], v[1], v[2] = 1, 1, 1
	case scene.ScaleX, scene.ScaleY, scene.ScaleZ, scene.Orient:
		v[0] = 1
	case scene.Matrix:
		v[0], v[5], v[10], v[15] = 1, 1, 1, 1
	case scene.LookAt:
		v[5], v[7] = -1, 1
	}
	return v
}

// columns holds the sampled components of one animated op over a block of
// frames, row after row of the op's width.
type columns struct {
	width int
	rows  []float64
	one   []float64 // one channel's samples, before they are spread over rows
}

// fill samples the op at n frames from display frame first.
func (c *columns) fill(o *opPlan, first float64, n int) {
	c.width = o.op.Kind.Width()
	c.rows = resize(c.rows, n*c.width)
	for f := range n {
		copy(c.rows[f*c.width:], o.value)
	}
	for _, in := range o.inputs {
		w := in.curve.Stride
		if w == c.width {
			SampleCurve(in.curve, first, n, o.value, c.rows)
			continue
		}
		c.one = resize(c.one, n*w)
		SampleCurve(in.curve, first, n, o.value[in.component:in.component+w], c.one)
		for f := range n {
			copy(c.rows[f*c.width+in.component:], c.one[f*w:(f+1)*w])
		}
	}
}

func resize[T any](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n)
	}
	return s[:n]
}

// locals evaluates the local transforms of a part at len(dst) frames from
// display frame first.
func (p *partPlan) locals(first float64, dst []Affine, buf *columns) {
	if !p.animated {
		for i := range dst {
			dst[i] = p.static
		}
		return
	}
	for i := range dst {
		dst[i] = identity
	}
	for i := range p.ops {
		o := &p.ops[i]
		if len(o.inputs) == 0 {
			for f := range dst {
				applyOp(&dst[f], o.op.Kind, o.op.Inverse, o.value)
			}
			continue
		}
		buf.fill(o, first, len(dst))
		for f := range dst {
			applyOp(&dst[f], o.op.Kind, o.op.Inverse, buf.rows[f*buf.width:(f+1)*buf.width])
		}
	}
}

// localAt evaluates the local transform at display frame t (may be fractional).
// Where with is a channel, that one channel takes its value at time t2 instead.
func (p *partPlan) localAt(t float64, with scene.ChannelID, t2 float64) Affine {
	m := identity
	var buf [16]float64
	for i := range p.ops {
		o := &p.ops[i]
		v := o.value
		if len(o.inputs) > 0 {
			v = buf[:copy(buf[:], o.value)]
			for _, in := range o.inputs {
				at := t
				if in.channel == with {
					at = t2
				}
				EvalCurve(in.curve, at, v[in.component:in.component+in.curve.Stride])
			}
		}
		applyOp(&m, o.op.Kind, o.op.Inverse, v)
	}
	return m
}
