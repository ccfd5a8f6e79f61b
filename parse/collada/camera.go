package collada

import (
	"math"
	"strings"

	"curvelint/parse/scene"
	"curvelint/parse/text"
	"curvelint/parse/xml"
)

// camera is a camera element.
type camera struct {
	orthographic bool
	lens         map[string]lensValue // by element name: xfov, yfov, xmag, aspect_ratio, ...
	def          scene.Span
}

// lensValue is one number of a camera's optics.
type lensValue struct {
	v   float64
	sid string
}

// camera reads a camera element.
func (p *parser) camera(t xmlscan.Token) {
	c := &camera{lens: make(map[string]lensValue), def: span(t.Pos, t.End)}
	register(p, p.cameras, p.r.AttrValue("id"), c, c.def)
	p.children(func(t xmlscan.Token) {
		if string(t.Name) != "optics" {
			return
		}
		p.children(func(t xmlscan.Token) {
			if string(t.Name) != "technique_common" {
				return
			}
			p.children(func(t xmlscan.Token) {
				switch string(t.Name) {
				case "orthographic":
					c.orthographic = true
				case "perspective":
				default:
					p.unknown(t, "perspective or orthographic")
					return
				}
				p.children(func(t xmlscan.Token) { p.lensValue(c, t) })
			})
		})
	})
}

func (p *parser) lensValue(c *camera, t xmlscan.Token) {
	name, sid := string(t.Name), p.r.AttrValue("sid")
	word, at := p.text()
	v, end, ok := text.Float([]byte(word), 0)
	if !ok || end != len(word) || v-v != 0 {
		p.syntax(at, "expected a number for %s, found %s", name, quote(word))
		return
	}
	c.lens[name] = lensValue{v, sid}
}

// lensNames are the numbers of a camera's optics.
var lensNames = []string{"xfov", "yfov", "xmag", "ymag", "aspect_ratio", "znear", "zfar"}

// lensAt returns the element of the optics with the given sid, or with that
// name: some writers leave the sids out.
func (c *camera) lensAt(sid string) string {
	for _, name := range lensNames {
		if v, ok := c.lens[name]; ok && v.sid == sid {
			return name
		}
	}
	for _, name := range lensNames {
		if _, ok := c.lens[name]; ok && strings.EqualFold(name, sid) {
			return name
		}
	}
	return ""
}

// aperture is the height (or, where only that is known, the width) of the
// picture of a perspective camera in the unit of the focal length. Any would
// do: it only makes lenses readable, being that of a 35 mm still.
const aperture = 24.0

// sceneCamera returns the scene's camera for a camera element. An aperture is
// 0 where the file does not say it.
func (c *camera) sceneCamera(part scene.PartID) scene.Camera {
	s := scene.Camera{
		Part: part, Orthographic: c.orthographic,
		FocalLengthChannel: scene.NoChannel, HorizontalChannel: scene.NoChannel, VerticalChannel: scene.NoChannel,
		HorizontalOffsetChan: scene.NoChannel, VerticalOffsetChan: scene.NoChannel,
		Near: c.lens["znear"].v, Far: c.lens["zfar"].v,
	}
	x, hasX, y, hasY := c.extent()
	s.AspectKnown = hasX && hasY
	if c.orthographic {
		s.HorizontalAperture, s.VerticalAperture = 2*x, 2*y // 0 where unknown
		return s
	}
	switch {
	case hasY:
		s.FocalLength = aperture / (2 * y)
		s.VerticalAperture, s.HorizontalAperture = aperture, aperture*x/y
	case hasX:
		s.FocalLength = aperture / (2 * x)
		s.HorizontalAperture = aperture
	}
	return s
}

// extent returns half the width and height of the picture at distance 1 (of
// an orthographic camera: anywhere), as far as the file says.
func (c *camera) extent() (x float64, hasX bool, y float64, hasY bool) {
	half := func(name string) (float64, bool) {
		v := c.lens[name].v
		if !c.orthographic {
			if !(v > 0 && v < 180) {
				return 0, false
			}
			v = math.Tan(v * math.Pi / 360)
		}
		return v, v > 0
	}
	across, up := "xfov", "yfov"
	if c.orthographic {
		across, up = "xmag", "ymag"
	}
	x, hasX = half(across)
	y, hasY = half(up)
	aspect := c.lens["aspect_ratio"].v
	if aspect > 0 && hasX != hasY {
		if hasX {
			y, hasY = x/aspect, true
		} else {
			x, hasX = y*aspect, true
		}
	}
	return x, hasX, y, hasY
}
