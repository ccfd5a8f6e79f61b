package gltf

import (
	"math"
	"strconv"

	"curvelint/parse/scene"
)

// curveKey tells curves apart.
type curveKey struct {
	input, output, column int
	interpolation         string
	shape                 shape
}

// curve makes column j of a channel's output into a curve, once; false, with a
// problem, when no key of it can be used.
func (p *parser) curve(d *drive, j int, quaternion bool) (scene.Curve, bool) {
	key := curveKey{d.s.input, d.s.output, j, d.s.interpolation, d.shape}
	if c, ok := p.curves[key]; ok && len(c.Times) > 0 {
		return c, true
	}
	c, ok := p.newCurve(d, j, quaternion)
	p.curves[key] = c
	return c, ok
}

func (p *parser) newCurve(d *drive, j int, quaternion bool) (scene.Curve, bool) {
	w := 1
	if quaternion {
		w = 4
	}
	times := p.times(d)
	n := min(len(times), d.out.n)
	if len(times) != d.out.n {
		p.uneven(d, len(times))
	}
	c := scene.Curve{Stride: w, Float32: d.out.float32, Step: d.out.step}
	if d.s.interpolation == "STEP" {
		c.Default = scene.Held
	}
	var values, in, out []float64
	var single []float32
	if d.out.single != nil {
		single = d.out.single[j][:n*w]
	} else {
		values = d.out.values[j][:n*w]
	}
	if d.cubic {
		in, out = d.out.in[j], d.out.out[j]
	}
	keep := p.usable(d, times[:n], w, single, values, in, out)
	c.Times, c.Values, c.Single = times[:n:n], values, single
	if keep != nil {
		c.Times, c.Values, c.Single = pick(times, keep, 1), pick(values, keep, w), pick(single, keep, w)
		in, out = pick(in, keep, w), pick(out, keep, w)
	}
	if len(c.Times) == 0 {
		p.problems.Once(scene.Syntax, d.c.span, "empty "+strconv.Itoa(int(d.c.span.Start)), "no key of this channel can be used; it is left out")
		return c, false
	}
	if d.cubic {
		if p.budget -= 2 * len(c.Values); p.budget < 0 {
			p.tooMany(d.s.span)
			return scene.Curve{}, false
		}
		c.Default = scene.Bezier
		c.Handles = p.handles(&c, in, out)
	}
	return c, true
}

// uneven reports that a sampler has not as many values as times, unless that
// follows from what was reported before.
func (p *parser) uneven(d *drive, times int) {
	if d.out.lacking || d.in.lacking {
		return
	}
	key, what := "length "+strconv.Itoa(int(d.s.span.Start)), "values"
	if d.cubic {
		what = "keys of three values"
	}
	p.problems.Once(scene.PartialExport, d.s.span, key, "expected as many %s in output as times in input, found %d and %d; the first %d are used", what, d.out.n, times, min(d.out.n, times))
}

// handles turns tangents per second into handles: a Hermite segment with slope
// m over d seconds is the Bezier with m*d/3 as handle (glTF 2.0, Appendix C).
func (p *parser) handles(c *scene.Curve, in, out []float64) *scene.Handles {
	w := c.Stride
	h := &scene.Handles{InV: make([]float64, len(c.Values)), OutV: make([]float64, len(c.Values))}
	for i := range len(c.Times) - 1 {
		third := (c.Times[i+1] - c.Times[i]) / p.s.Rate / 3
		for k := range w {
			h.OutV[i*w+k] = out[i*w+k] * third
			h.InV[(i+1)*w+k] = -in[(i+1)*w+k] * third
		}
	}
	return h
}

// usable returns which keys have finite values and times that ascend, nil when
// all have.
func (p *parser) usable(d *drive, times []float64, w int, single []float32, columns ...[]float64) []int32 {
	clean := ascending(times) && finite(single)
	for _, column := range columns {
		clean = clean && finite(column)
	}
	if clean {
		return nil
	}
	keep := []int32{}
	last := math.Inf(-1)
	for i, t := range times {
		switch {
		case t-t != 0:
			p.problems.Once(scene.Syntax, d.s.inputSpan, "time "+strconv.Itoa(d.s.input), "the time of key %d of this accessor is no finite number; such keys are left out", i)
			continue
		case !(t > last):
			p.problems.Once(scene.Syntax, d.s.inputSpan, "order "+strconv.Itoa(d.s.input), "expected times that ascend, found that of key %d at or before the one before it; such keys are left out", i)
			continue
		}
		good := single == nil || finite(single[i*w:(i+1)*w])
		for _, column := range columns {
			good = good && (column == nil || finite(column[i*w:(i+1)*w]))
		}
		if !good {
			p.problems.Once(scene.Syntax, d.s.outputSpan, "value "+strconv.Itoa(d.s.output), "the value at frame %g of this accessor is no finite number; such keys are left out", t)
			continue
		}
		keep, last = append(keep, int32(i)), t
	}
	return keep
}

func ascending(times []float64) bool {
	last := math.Inf(-1)
	for _, t := range times {
		if !(t > last) {
			return false
		}
		last = t
	}
	return !math.IsInf(last, 1)
}

// finite reports whether all numbers are. The product of any number and 0 is 0
// unless it is not finite.
func finite[T float32 | float64](values []T) bool {
	var sum T
	for _, v := range values {
		sum += v * 0
	}
	return sum == 0
}

// pick returns the keys, each w wide, that are kept.
func pick[T float32 | float64](values []T, keep []int32, w int) []T {
	if values == nil {
		return nil
	}
	out := make([]T, 0, len(keep)*w)
	for _, i := range keep {
		out = append(out, values[int(i)*w:(int(i)+1)*w]...)
	}
	return out
}
