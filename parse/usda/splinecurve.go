package usda

import (
	"math"
	"slices"

	"curvelint/parse/scene"
)

// maxLoopedKnots bounds the keys that the inner loop of a spline may make.
const maxLoopedKnots = 100_000

// splined returns the curve of an attribute's spline.
func (b *builder) splined(v stated) scene.Curve {
	s := v.spline
	knots := b.looped(v)
	n := len(knots)
	c := scene.Curve{
		Times: make([]float64, n), Values: make([]float64, n), Stride: 1, Interp: make([]scene.Interp, n),
		File: v.layer.file, Spans: make([]uint32, n), SpanStride: 1, Float32: v.typ.float32,
		Pre: s.pre.kind, Post: s.post.kind,
	}
	times := make([]float64, n)
	decimals := int8(math.MinInt8)
	dual, curved := false, false
	for i, k := range knots {
		times[i] = k.time
		c.Values[i], c.Interp[i], c.Spans[i] = k.value, k.next, k.at
		dual = dual || k.dual
		curved = curved || k.next == scene.Bezier
		decimals = max(decimals, k.decimals)
	}
	c.Times = b.toFrames(times, v.time)
	c.Step = stepOf(decimals)
	if dual {
		c.PreValues = make([]float64, n)
		for i, k := range knots {
			c.PreValues[i] = k.before
		}
	}
	rate := v.time.scale * b.ratio // frames in a time code
	if curved {
		c.Handles = b.handles(v, knots, rate)
	}
	c.PreSlope, c.PostSlope = s.pre.slope/rate, s.post.slope/rate
	if s.pre.kind == scene.ExtrapLinear {
		c.Pre, c.PreSlope = scene.ExtrapSloped, endSlope(knots, true)/rate
	}
	if s.post.kind == scene.ExtrapLinear {
		c.Post, c.PostSlope = scene.ExtrapSloped, endSlope(knots, false)/rate
	}
	return c
}

// endSlope returns the slope with which a spline goes on linearly before its
// first or after its last knot: that of the end segment at the knot.
func endSlope(knots []knot, first bool) float64 {
	n := len(knots)
	if n < 2 {
		return 0
	}
	a, z := knots[n-2], knots[n-1]
	tangent := z.preSlope
	if first {
		a, z = knots[0], knots[1]
		tangent = a.postSlope
	}
	switch a.next {
	case scene.Bezier:
		return tangent
	case scene.Linear:
		return (z.before - a.value) / (z.time - a.time)
	}
	return 0
}

// handles returns the control points of the curved segments of a spline.
func (b *builder) handles(v stated, knots []knot, rate float64) *scene.Handles {
	n := len(knots)
	h := &scene.Handles{InV: make([]float64, n), OutV: make([]float64, n)}
	if !v.spline.hermite {
		h.InT, h.OutT = make([]float64, n), make([]float64, n)
	}
	shortened := 0
	var at scene.Span
	for i := 0; i+1 < n; i++ {
		a, z := &knots[i], &knots[i+1]
		if a.next != scene.Bezier {
			continue
		}
		d := z.time - a.time
		out, in := a.postWidth, z.preWidth
		if v.spline.hermite {
			out, in = d/3, d/3
		} else {
			by := shorten(out/d, in/d)
			if by < 1 {
				if shortened++; shortened == 1 {
					at = v.span(extent{a.at, a.at + 1})
				}
			}
			out, in = out*by, in*by
			h.OutT[i], h.InT[i+1] = out*rate, -in*rate
		}
		h.OutV[i], h.InV[i+1] = out*a.postSlope, -in*z.preSlope
	}
	if shortened > 0 {
		at.End = uint32(scene.ValueEnd(v.layer.src, int(at.Start)))
		b.problems.Add(scene.Unsupported, at, "handles of %s are so long that time would run backwards; they are shortened in proportion, in %d of %d segments, first after this knot", v.name, shortened, n-1)
	}
	return h
}

// shorten returns by what the handles of a segment of length 1 must be
// multiplied so that its time never runs backwards: 1 while
// out + in - sqrt(out*in) <= 1, else the inverse of that.
func shorten(out, in float64) float64 {
	if q := out + in - math.Sqrt(out*in); q > 1 {
		return 1 / q
	}
	return 1
}

// looped returns the knots of a spline in the order of time, the later of two
// at one time, with the copies that the inner loop makes.
func (b *builder) looped(v stated) []knot {
	knots := slices.Clone(v.spline.knots)
	slices.SortStableFunc(knots, func(x, y knot) int {
		switch {
		case x.time < y.time:
			return -1
		case x.time > y.time:
			return 1
		}
		return 0
	})
	kept := knots[:0]
	for i, k := range knots {
		if i+1 == len(knots) || knots[i+1].time != k.time {
			kept = append(kept, k)
		}
	}
	if l := v.spline.loop; l != nil && l.end > l.start && l.nPre+l.nPost >= 0 {
		return b.repeat(v, l, kept)
	}
	return kept
}

// repeat makes the copies of an inner loop. They replace the knots where they
// lie, and a copy of the first looped knot ends the last copy.
func (b *builder) repeat(v stated, l *innerLoop, knots []knot) []knot {
	var proto []knot
	for _, k := range knots {
		if k.time >= l.start && k.time < l.end {
			proto = append(proto, k)
		}
	}
	if len(proto) == 0 || proto[0].time != l.start {
		return knots // there must be a knot where the loop starts
	}
	nPre, nPost := l.nPre, l.nPost
	if most := maxLoopedKnots / len(proto); nPre > most/2 || nPost > most/2 {
		b.problems.Add(scene.Unsupported, v.span(l.at), "expected at most %d loops of these %d knots; the rest is left out", most, len(proto))
		nPre, nPost = min(nPre, most/2), min(nPost, most/2)
	}
	length := l.end - l.start
	first, last := l.start-float64(nPre)*length, l.end+float64(nPost)*length
	var out []knot
	for _, k := range knots {
		if k.time < first {
			out = append(out, k)
		}
	}
	for i := -nPre; i <= nPost+1; i++ {
		copies := proto
		if i > nPost {
			copies = proto[:1]
		}
		for _, k := range copies {
			k.time += float64(i) * length
			k.value += float64(i) * l.offset
			k.before += float64(i) * l.offset
			out = append(out, k)
		}
	}
	for _, k := range knots {
		if k.time > last {
			out = append(out, k)
		}
	}
	return out
}
