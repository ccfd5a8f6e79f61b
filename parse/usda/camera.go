package usda

import (
	"slices"

	"curvelint/parse/scene"
)

// camera adds the lens of a camera prim. Apertures and focal length are in
// tenths of a scene unit; those of an orthographic camera are given in scene
// units, as the model wants them.
func (b *builder) camera(p *composed, id scene.PartID) {
	c := scene.Camera{Part: id, AspectKnown: true}
	if v, ok := p.valued("projection"); ok && v.hasValue() {
		words, _ := v.strings()
		c.Orthographic = len(words) == 1 && words[0] == "orthographic"
	}
	unit := 1.0
	if c.Orthographic {
		unit = 0.1
	}
	c.FocalLength, c.FocalLengthChannel = b.lens(p, id, "focalLength", 50, 1)
	c.HorizontalAperture, c.HorizontalChannel = b.lens(p, id, "horizontalAperture", 20.955, unit)
	c.VerticalAperture, c.VerticalChannel = b.lens(p, id, "verticalAperture", 15.2908, unit)
	c.HorizontalOffset, c.HorizontalOffsetChan = b.lens(p, id, "horizontalApertureOffset", 0, unit)
	c.VerticalOffset, c.VerticalOffsetChan = b.lens(p, id, "verticalApertureOffset", 0, unit)
	c.Near, c.Far = 1, 1e6
	if v, ok := p.valued("clippingRange"); ok {
		n, _ := v.static()
		if n == nil {
			n = v.first()
		}
		if len(n) == 2 {
			c.Near, c.Far = n[0], n[1]
		}
	}
	b.scene.Cameras = append(b.scene.Cameras, c)
}

// lens returns the static value of a camera attribute and its channel if it is
// animated, both in units of the attribute's times unit.
func (b *builder) lens(p *composed, id scene.PartID, name string, fallback, unit float64) (float64, scene.ChannelID) {
	v, ok := p.valued(name)
	if !ok || v.typ.base != real || v.typ.rows != 0 || v.typ.array {
		return fallback * unit, scene.NoChannel
	}
	value := fallback
	if n := v.first(); len(n) == 1 {
		value = n[0]
	} else if n, _ := v.static(); len(n) == 1 {
		value = n[0]
	}
	ids := b.animate(id, scene.NoOp, name, scene.Number, v)
	if len(ids) == 0 {
		return value * unit, scene.NoChannel
	}
	if unit != 1 {
		scaleCurve(&b.scene.Channels[ids[0]].Curve, unit)
	}
	return value * unit, ids[0]
}

// scaleCurve multiplies the values of a curve, whose columns may be shared.
func scaleCurve(c *scene.Curve, by float64) {
	scaled := func(list []float64) []float64 {
		list = slices.Clone(list)
		for i := range list {
			list[i] *= by
		}
		return list
	}
	c.Values = scaled(c.Values)
	if c.PreValues != nil {
		c.PreValues = scaled(c.PreValues)
	}
	if c.Handles != nil {
		h := *c.Handles
		h.InV, h.OutV = scaled(h.InV), scaled(h.OutV)
		c.Handles = &h
	}
	c.PreSlope *= by
	c.PostSlope *= by
	c.Step *= by
}

// lensNames are the attributes of cameras that are read above, or that bear on
// the picture but not on the motion.
var lensNames = map[string]bool{
	"focalLength": true, "horizontalAperture": true, "verticalAperture": true, "horizontalApertureOffset": true,
	"verticalApertureOffset": true, "clippingRange": true, "fStop": true, "focusDistance": true,
	"shutter:open": true, "shutter:close": true, "exposure": true,
}
