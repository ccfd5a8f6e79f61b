package collada

import (
	"math"

	"curvelint/parse/scene"
)

// layout is how the tangents of a source stand in its array, seen from the
// first number of a key: that of component j at value+j*stride and its time at
// time+j*stride, or at time for all components when shared. time is -1 when
// there are no times.
type layout struct {
	time, value, stride int
	shared              bool
}

// tangentLayout says how the tangents of m components stand in a source: m
// values; m pairs of time and value; or one time and m values.
func tangentLayout(s *source, m int) (l layout, ok bool) {
	at, _ := s.components()
	switch k := len(at); {
	case k == m:
		return layout{time: -1, value: at[0], stride: 1}, true
	case k == 2*m:
		return layout{time: at[0], value: at[0] + 1, stride: 2}, true
	case k == m+1:
		return layout{time: at[0], value: at[0] + 1, stride: 1, shared: true}, true
	}
	return layout{}, false
}

// tangents are the tangents of one side of a track.
type tangents struct {
	layout
	values         []float64
	offset, period int
}

// of returns the tangent of component j of a key in the file. Its time is NaN
// when there is none.
func (t *tangents) of(key, j int) (time, value float64) {
	base := t.offset + key*t.period
	time = nan
	switch {
	case t.time >= 0 && t.shared:
		time = t.values[base+t.time]
	case t.time >= 0:
		time = t.values[base+t.time+j*t.stride]
	}
	return time, t.values[base+t.value+j*t.stride]
}

// shaper makes the handles of one curve.
type shaper struct {
	b         *builder
	t         *track
	c         *scene.Curve
	k         *keys
	component int // of the output, the curve's first
	in, out   tangents
	known     bool // the tangents can be used
	handles   *scene.Handles
	uneven    bool // some handle is not a third of its segment long
	overlong  bool // some handle had to be shortened
}

func (b *builder) shaper(t *track, c *scene.Curve, k *keys, at []int) *shaper {
	n := len(c.Times)
	h := &shaper{b: b, t: t, c: c, k: k, handles: &scene.Handles{
		InT: make([]float64, n), OutT: make([]float64, n),
		InV: make([]float64, n*c.Stride), OutV: make([]float64, n*c.Stride),
	}}
	for j, place := range t.at {
		if place == at[0] {
			h.component = j
		}
	}
	if t.in == nil || t.out == nil {
		return h
	}
	var okIn, okOut bool
	h.in, okIn = b.tangents(t.in, len(t.at))
	h.out, okOut = b.tangents(t.out, len(t.at))
	if h.known = okIn && okOut; !h.known {
		b.problems.Once(scene.Syntax, t.s.span, "tangents "+t.s.id, "expected tangents of %d or %d numbers for keys of %s; the curve is read as straight", len(t.at), 2*len(t.at), plural(len(t.at), "number"))
	}
	return h
}

func (b *builder) tangents(s *source, m int) (tangents, bool) {
	l, ok := tangentLayout(s, m)
	a := b.arrayOf(s)
	if !ok || a == nil || a.numbers == nil {
		return tangents{}, false
	}
	return tangents{l, a.numbers.values, s.offset, s.stride}, true
}

// segment makes the handles of the segment from key i on and reports whether
// it has any.
func (h *shaper) segment(i int, m method) bool {
	if m != cardinal && !h.known {
		return false
	}
	d := h.c.Times[i+1] - h.c.Times[i]
	for j := range h.c.Stride {
		var outT, outV, inT, inV float64
		switch m {
		case bezier:
			outT, outV, inT, inV = h.bezier(i, j)
		case hermite:
			outT, outV, inT, inV = h.hermite(i, j)
		default:
			outT, outV, inT, inV = h.cardinal(i, j)
		}
		if math.IsNaN(outT) {
			outT = d / 3
		}
		if math.IsNaN(inT) {
			inT = -d / 3
		}
		if outV-outV != 0 || inV-inV != 0 || outT-outT != 0 || inT-inT != 0 {
			return false
		}
		h.store(i, j, d, outT, outV, inT, inV)
	}
	return true
}

// value returns component j of key i, and of a key with two values the one
// before it if before is true.
func (h *shaper) value(i, j int, before bool) float64 {
	if before && h.c.PreValues != nil {
		return h.c.PreValues[i]
	}
	return h.c.Values[i*h.c.Stride+j]
}

// bezier: tangents are control points.
func (h *shaper) bezier(i, j int) (outT, outV, inT, inV float64) {
	a, b := h.k.outKey(i), h.k.inKey(i+1)
	time, value := h.out.of(a, h.component+j)
	outT, outV = (time-h.t.seconds[a])*h.b.s.Rate, value-h.value(i, j, false)
	time, value = h.in.of(b, h.component+j)
	inT, inV = (time-h.t.seconds[b])*h.b.s.Rate, value-h.value(i+1, j, true)
	return outT, outV, inT, inV
}

// hermite: tangents are vectors, three times as long as the handles.
func (h *shaper) hermite(i, j int) (outT, outV, inT, inV float64) {
	time, value := h.out.of(h.k.outKey(i), h.component+j)
	outT, outV = time*h.b.s.Rate/3, value/3
	time, value = h.in.of(h.k.inKey(i+1), h.component+j)
	inT, inV = -time*h.b.s.Rate/3, -value/3
	return outT, outV, inT, inV
}

// cardinal: the tangent at a key is half of the way from the key before it to
// the key behind it (a tension of 0), at the ends from the key itself.
func (h *shaper) cardinal(i, j int) (outT, outV, inT, inV float64) {
	n := len(h.c.Times)
	before, behind := max(i-1, 0), min(i+2, n-1)
	outT = (h.c.Times[i+1] - h.c.Times[before]) / 6
	outV = (h.value(i+1, j, true) - h.value(before, j, false)) / 6
	inT = -(h.c.Times[behind] - h.c.Times[i]) / 6
	inV = -(h.value(behind, j, true) - h.value(i, j, false)) / 6
	return outT, outV, inT, inV
}

// store keeps the handles of a segment of d frames. Handles that reach so far
// that time would run backwards are shortened, both in the same proportion:
// with lengths a and b as shares of d, time goes forward while
// a + b - sqrt(a*b) <= 1.
func (h *shaper) store(i, j int, d, outT, outV, inT, inV float64) {
	const thirds = 1e-6
	if math.Abs(outT-d/3) > thirds*d || math.Abs(inT+d/3) > thirds*d {
		h.uneven = true
	}
	a, b := max(outT/d, 0), max(-inT/d, 0)
	if excess := a + b - math.Sqrt(a*b); excess > 1 {
		if excess > 1+1e-3 {
			h.tooLong(i)
		}
		a, b, outV, inV = a/excess, b/excess, outV/excess, inV/excess
	}
	w := h.c.Stride
	h.handles.OutV[i*w+j], h.handles.InV[(i+1)*w+j] = outV, inV
	if j == 0 {
		h.handles.OutT[i], h.handles.InT[i+1] = a*d, -b*d
	}
}

func (h *shaper) tooLong(i int) {
	if h.overlong {
		return
	}
	h.overlong = true
	at := h.t.s.span
	if w := h.c.SpanStride; len(h.c.Spans) > i*w {
		start := int(h.c.Spans[i*w])
		at = span(start, scene.ValueEnd(h.b.src, start))
	}
	h.b.problems.Add(scene.Unsupported, at, "the handles between this key and the next reach so far that time would run backwards; they are shortened, here and wherever this curve has such")
}

// finish drops times that say nothing beyond the rule of thirds.
func (h *shaper) finish() {
	if !h.uneven {
		h.handles.InT, h.handles.OutT = nil, nil
	}
}
