package collada

import (
	"math"
	"slices"

	"curvelint/parse/scene"
	"curvelint/parse/text"
)

// keys are the keys of one curve: those of its track, less those whose value
// is no number.
type keys struct {
	times      []float64
	index, pre []int32 // as in track
}

// curve makes components that stand side by side into a curve, once.
func (b *builder) curve(t *track, at []int) scene.Curve {
	for i := range t.curves {
		if c := &t.curves[i]; c.first == at[0] && c.width == len(at) {
			return c.curve
		}
	}
	c := b.newCurve(t, at)
	t.curves = append(t.curves, cut{at[0], len(at), c})
	return c
}

func (b *builder) newCurve(t *track, at []int) scene.Curve {
	w := len(at)
	cost := t.n * w
	if t.methods != nil || t.uniform != linear && t.uniform != step {
		cost *= 6 // handles
	}
	if !b.spend(cost, t.s.span) {
		t.lacking = true
		return scene.Curve{Stride: w}
	}
	col := b.column(t.output, at, t.n)
	k := t.usable(col, w)
	c := scene.Curve{
		Times: k.times, Stride: w, SpanStride: w, Pre: t.s.pre, Post: t.s.post,
		Step: text.Step(col.step),
	}
	if k.index == nil {
		c.Values, c.Spans = col.values, col.spans
	} else {
		b.gather(&c, &k, col)
	}
	if len(c.Times) == 0 {
		return c
	}
	b.segments(t, &c, &k, at)
	return c
}

// usable returns the keys of a column that are numbers.
func (t *track) usable(col column, w int) keys {
	k := keys{t.times, t.index, t.pre}
	if !col.holes || !slices.ContainsFunc(col.values, math.IsNaN) {
		return k
	}
	bad := func(key int32) bool {
		for _, v := range col.values[int(key)*w : (int(key)+1)*w] {
			if v != v {
				return true
			}
		}
		return false
	}
	var rest keys
	for i, f := range t.times {
		key, before := int32(i), int32(-1)
		if t.index != nil {
			key, before = t.index[i], t.pre[i]
		}
		if before >= 0 && bad(before) {
			before = -1
		}
		if bad(key) {
			if before < 0 {
				continue
			}
			key, before = before, -1
		}
		rest.times, rest.index, rest.pre = append(rest.times, f), append(rest.index, key), append(rest.pre, before)
	}
	if rest.index == nil {
		rest.index = []int32{}
	}
	return rest
}

// simultaneous is how long before a key with two values the first one counts,
// in frames, where a curve has no room for it in the key itself.
const simultaneous = 1e-4

// gather copies the keys that are used.
func (b *builder) gather(c *scene.Curve, k *keys, col column) {
	w := c.Stride
	two := false
	for _, before := range k.pre {
		two = two || before >= 0
	}
	if two && w > 1 {
		k.split()
		two = false
	}
	c.Times = k.times
	for i, key := range k.index {
		from := int(key) * w
		c.Values = append(c.Values, col.values[from:from+w]...)
		c.Spans = append(c.Spans, col.spans[from:from+w]...)
		if !two {
			continue
		}
		before := c.Values[i]
		if k.pre[i] >= 0 {
			before = col.values[k.pre[i]]
		}
		c.PreValues = append(c.PreValues, before)
	}
}

// split makes two keys of those with two values.
func (k *keys) split() {
	var out keys
	for i, f := range k.times {
		if k.pre[i] >= 0 {
			early := f - simultaneous
			if n := len(out.times); n > 0 && early <= out.times[n-1] {
				early = (out.times[n-1] + f) / 2
			}
			out.times, out.index, out.pre = append(out.times, early), append(out.index, k.pre[i]), append(out.pre, -1)
		}
		out.times, out.index, out.pre = append(out.times, f), append(out.index, k.index[i]), append(out.pre, -1)
	}
	*k = out
}

// outKey and inKey return the keys in the file whose out-tangent and in-tangent
// belong to key i.
func (k *keys) outKey(i int) int {
	if k.index == nil {
		return i
	}
	return int(k.index[i])
}

func (k *keys) inKey(i int) int {
	if k.index != nil && k.pre[i] >= 0 {
		return int(k.pre[i])
	}
	return k.outKey(i)
}

// segments gives the curve its interpolation and handles.
func (b *builder) segments(t *track, c *scene.Curve, k *keys, at []int) {
	if t.methods == nil && (t.uniform == linear || t.uniform == step) {
		if t.uniform == step {
			c.Default = scene.Held
		}
		return
	}
	n := len(c.Times)
	h := b.shaper(t, c, k, at)
	c.Interp = make([]scene.Interp, n)
	for i := range n - 1 {
		switch m := t.methodOf(k.outKey(i)); {
		case m == step:
			c.Interp[i] = scene.Held
		case m != linear && h.segment(i, m):
			c.Interp[i] = scene.Bezier
			c.Handles = h.handles
		}
	}
	h.finish()
	c.Interp[n-1] = c.Interp[max(n-2, 0)] // never looked at
	for _, interp := range c.Interp {
		if interp != c.Interp[0] {
			return
		}
	}
	c.Default, c.Interp = c.Interp[0], nil
}
