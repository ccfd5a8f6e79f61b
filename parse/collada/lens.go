package collada

import (
	"math"

	"curvelint/parse/scene"
)

// driveLens makes the channels of an animated lens. A field of view becomes a
// focal length, key by key; handles follow the slope of that function.
func (b *builder) driveLens(d *drive, t *track) {
	if len(t.at) != 1 {
		b.mismatch(d, t, 1)
		return
	}
	for _, i := range b.lenses[d.camera] {
		cam := &b.s.Cameras[i]
		slot, curve := b.lensCurve(cam, d.lens, b.curve(t, t.at))
		switch {
		case slot == nil:
			if d.lens != "znear" && d.lens != "zfar" {
				b.problems.Once(scene.Unsupported, d.channel.target.span, "lens "+d.lens, "an animated %s is not followed; this channel is left out", d.lens)
			}
			return
		case *slot != scene.NoChannel:
			b.syntax(d.channel.span, "this camera's lens is animated by an earlier channel already; this one is left out")
			return
		}
		before := len(b.s.Channels)
		b.channel(d, []scene.PartID{cam.Part}, scene.NoOp, 0, d.lens, scene.Number, curve)
		if len(b.s.Channels) > before {
			*slot = scene.ChannelID(before)
		}
	}
}

// lensCurve returns the curve of what a camera's optics become, and where the
// camera notes its channel.
func (b *builder) lensCurve(cam *scene.Camera, name string, c scene.Curve) (*scene.ChannelID, scene.Curve) {
	switch {
	case name == "xmag":
		return &cam.HorizontalChannel, mapped(c, double, two)
	case name == "ymag":
		return &cam.VerticalChannel, mapped(c, double, two)
	case name == "xfov" && cam.HorizontalAperture > 0:
		f, slope := focal(cam.HorizontalAperture)
		return &cam.FocalLengthChannel, mapped(c, f, slope)
	case name == "yfov" && cam.VerticalAperture > 0:
		f, slope := focal(cam.VerticalAperture)
		return &cam.FocalLengthChannel, mapped(c, f, slope)
	}
	return nil, c
}

func double(v float64) float64 { return 2 * v }
func two(float64) float64      { return 2 }

// focal returns the focal length f = a / (2 tan(v/2)) that gives an aperture a
// the field of view v in degrees, and its slope.
func focal(a float64) (f, slope func(v float64) float64) {
	half := func(v float64) float64 { return min(max(v, 0.01), 179.99) * math.Pi / 360 }
	f = func(v float64) float64 { return a / (2 * math.Tan(half(v))) }
	slope = func(v float64) float64 {
		s := math.Sin(half(v))
		return -a / (4 * s * s) * math.Pi / 180
	}
	return f, slope
}

// mapped returns a curve with each value v replaced by f(v).
func mapped(c scene.Curve, f, slope func(float64) float64) scene.Curve {
	values := make([]float64, len(c.Values))
	for i, v := range c.Values {
		values[i] = f(v)
	}
	if c.Handles != nil {
		h := *c.Handles
		h.InV, h.OutV = append([]float64(nil), h.InV...), append([]float64(nil), h.OutV...)
		for i, v := range c.Values {
			before := v
			if c.PreValues != nil {
				before = c.PreValues[i]
			}
			h.InV[i] *= slope(before)
			h.OutV[i] *= slope(v)
		}
		c.Handles = &h
	}
	pre := c.PreValues
	c.PreValues = nil
	for _, v := range pre {
		c.PreValues = append(c.PreValues, f(v))
	}
	c.Values = values
	c.Step = 0
	return c
}
