package usda

import (
	"math"

	"curvelint/parse/scene"
	"curvelint/parse/text"
)

// timesKey names a column of times under a map.
type timesKey struct {
	first *float64
	n     int
	time  timeMap
}

// toFrames returns times of an opinion in display frames. Columns that are the
// same stay one.
func (b *builder) toFrames(times []float64, m timeMap) []float64 {
	m = timeMap{m.scale * b.ratio, m.offset * b.ratio}
	if m == sameTime || len(times) == 0 {
		return times
	}
	key := timesKey{&times[0], len(times), m}
	if known := b.frames[key]; known != nil {
		return known
	}
	out := make([]float64, len(times))
	for i, t := range times {
		out[i] = t*m.scale + m.offset
	}
	b.frames[key] = out
	return out
}

// sampled returns the curve of a column of an attribute's samples.
func (b *builder) sampled(v stated, col *column) scene.Curve {
	c := scene.Curve{
		Times: b.toFrames(v.samples.times, v.time), Values: col.values, Stride: col.stride,
		File: v.layer.file, Spans: col.spans, SpanStride: 1,
		Step: stepOf(col.decimals), Float32: v.typ.float32,
	}
	if v.typ.base == integer {
		c.Default = scene.Held
	}
	if len(v.samples.none) > 0 {
		c.Interp = blanks(len(c.Times), c.Default, v.samples.none)
	}
	return c
}

func stepOf(decimals int8) float64 {
	if decimals == math.MinInt8 {
		return 0
	}
	return text.Step(int(decimals))
}

// blanks returns the interpolations of n keys of which some have no value: a
// value before such a key is held up to it.
func blanks(n int, usual scene.Interp, none []int32) []scene.Interp {
	list := make([]scene.Interp, n)
	for i := range list {
		list[i] = usual
	}
	for _, i := range none {
		list[i] = scene.Blank
		if i > 0 && list[i-1] != scene.Blank {
			list[i-1] = scene.Held
		}
	}
	return list
}

// channel adds a channel for a column of an attribute.
func (b *builder) channel(part scene.PartID, op, component int, name string, q scene.Quantity, v stated, col *column) scene.ChannelID {
	return b.addChannel(scene.Channel{
		Part: part, Op: op, Component: component, Name: name, Quantity: q, Curve: b.sampled(v, col),
		Def: v.span(v.declared()), Block: v.span(v.samples.block),
	})
}

func (b *builder) addChannel(c scene.Channel) scene.ChannelID {
	b.scene.Channels = append(b.scene.Channels, c)
	return scene.ChannelID(len(b.scene.Channels) - 1)
}

// animated reports whether an attribute has keys that can be studied.
func (v stated) animated() bool {
	return v.samples != nil && len(v.samples.cols) > 0 && len(v.samples.none) < len(v.samples.times) ||
		v.samples == nil && v.spline != nil && len(v.spline.knots) > 0
}

// animate adds the channels of an attribute that drives the components of an
// op, or of none. A quaternion or matrix has one channel, anything else one
// for each number, named by suffixes.
func (b *builder) animate(part scene.PartID, op int, name string, q scene.Quantity, v stated) []scene.ChannelID {
	if !v.animated() {
		return nil
	}
	if v.samples == nil {
		return []scene.ChannelID{b.addChannel(scene.Channel{
			Part: part, Op: op, Name: name, Quantity: q, Curve: b.splined(v),
			Def: v.span(v.declared()), Block: v.span(v.spline.block),
		})}
	}
	var ids []scene.ChannelID
	for c := range v.samples.cols {
		own := name
		if len(v.samples.cols) > 1 {
			own += "." + axisName(c)
		}
		ids = append(ids, b.channel(part, op, c, own, q, v, &v.samples.cols[c]))
	}
	return ids
}

func axisName(c int) string {
	if c < 4 {
		return "xyzw"[c : c+1]
	}
	return string(rune('0' + c%10))
}

// first returns the numbers of the first key, nil if there is none.
func (v stated) first() []float64 {
	if !v.animated() {
		return nil
	}
	if v.samples == nil {
		return []float64{v.spline.knots[0].value}
	}
	var out []float64
	for i := range v.samples.cols {
		c := &v.samples.cols[i]
		out = append(out, c.values[:c.stride]...)
	}
	return out
}

// static returns the numbers of the static value, in the order in which they
// are written, with where each is written; nil if there is none.
func (v stated) static() ([]float64, []uint32) {
	if !v.hasValue() || v.blocked || !v.typ.numeric() {
		return nil, nil
	}
	n := &numbers{whole: v.typ.asWhole()}
	p := parser{src: v.layer.src[:v.value.end], pos: int(v.value.start), maxDepth: defaultMaxDepth, values: n}
	if !p.value(v.typ) || n.odd {
		return nil, nil
	}
	if v.typ.role == matrix {
		transpose(n.vals, v.typ.rows)
	}
	return n.vals, n.spans
}
