package gltf

import (
	"math"

	"curvelint/parse/scene"
)

// camera is a camera: yfov in radians and the aspect ratio of the picture (0
// if not said), or half the width and height of the picture.
type camera struct {
	span                           scene.Span
	perspective, orthographic      bool
	yfov, aspect, xmag, ymag, near float64
	far                            float64
	used                           []int // indices into Scene.Cameras
}

func (p *parser) camera() (c camera) {
	r := p.r
	number := func(v *float64) {
		if x, ok := r.number("a number"); ok {
			*v = x
		}
	}
	lens := func(name string, at scene.Span) {
		switch name {
		case "yfov":
			number(&c.yfov)
		case "aspectRatio":
			number(&c.aspect)
		case "xmag":
			number(&c.xmag)
		case "ymag":
			number(&c.ymag)
		case "znear":
			number(&c.near)
		case "zfar":
			number(&c.far)
		}
	}
	c.span = r.object(func(name string, at scene.Span) {
		switch name {
		case "perspective":
			c.perspective = true
			r.object(lens)
		case "orthographic":
			c.orthographic = true
			r.object(lens)
		}
	})
	return c
}

// aperture is the height of the picture of a perspective camera in the unit of
// the focal length. Any would do: it only makes lenses readable, being that of
// a 35 mm still.
const aperture = 24.0

// sceneCamera returns the scene's camera. The width of the picture is 0 where
// the file does not say it.
func (c *camera) sceneCamera(part scene.PartID) scene.Camera {
	s := scene.Camera{
		Part: part, Orthographic: c.orthographic && !c.perspective,
		FocalLengthChannel: scene.NoChannel, HorizontalChannel: scene.NoChannel, VerticalChannel: scene.NoChannel,
		HorizontalOffsetChan: scene.NoChannel, VerticalOffsetChan: scene.NoChannel,
		Near: c.near, Far: c.far,
	}
	if s.Orthographic {
		s.HorizontalAperture, s.VerticalAperture = 2*math.Abs(c.xmag), 2*math.Abs(c.ymag)
		s.AspectKnown = c.xmag != 0 && c.ymag != 0
		return s
	}
	s.VerticalAperture = aperture
	s.FocalLength = focalLength(c.yfov)
	if c.aspect > 0 {
		s.HorizontalAperture, s.AspectKnown = aperture*c.aspect, true
	}
	return s
}

// focalLength returns the focal length f = a / (2 tan(yfov/2)) that gives an
// aperture a the vertical field of view yfov in radians.
func focalLength(yfov float64) float64 {
	return aperture / (2 * math.Tan(half(yfov)))
}

// focalSlope returns the derivative of focalLength.
func focalSlope(yfov float64) float64 {
	s := math.Sin(half(yfov))
	return -aperture / (4 * s * s)
}

// half returns half a field of view, kept away from the angles that no lens
// has.
func half(yfov float64) float64 { return min(max(yfov/2, 1e-4), math.Pi/2-1e-4) }
