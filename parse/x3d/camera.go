package x3d

import (
	"math"

	"curvelint/parse/scene"
)

// pictureHeight is the height of the picture in the unit of the focal length;
// only their ratio means anything.
const pictureHeight = 24

// camera adds the operations and the lens of a viewpoint. Its field of view is
// that of the shorter side of the picture, which is the height for pictures in
// landscape format (ISO/IEC 19775-1, 23.4.6).
func (s stack) camera(outer [3]float64) {
	s.before(outer)
	at, _ := s.static("position", [3]float64{0, 0, 10})
	s.vectorOp(scene.Translate, "position", at, false)
	s.rotation("orientation", false)
	cam := scene.Camera{
		Part: s.part, FocalLengthChannel: scene.NoChannel,
		HorizontalChannel: scene.NoChannel, VerticalChannel: scene.NoChannel,
		HorizontalOffsetChan: scene.NoChannel, VerticalOffsetChan: scene.NoChannel,
		Near: 0.1, Far: 1e6,
	}
	if s.node.kind == orthoView {
		s.orthographic(&cam)
	} else {
		s.perspective(&cam)
	}
	s.scene.Cameras = append(s.scene.Cameras, cam)
	// The first viewpoint of a file is bound when it is opened (23.3.1).
	if s.scene.DefaultCamera == scene.NoPart {
		s.scene.DefaultCamera = s.part
	}
}

// perspective sets the lens of a Viewpoint.
func (s stack) perspective(cam *scene.Camera) {
	angle := s.doc.number(s.node, "fieldOfView", math.Pi/4/s.doc.radian) * s.doc.radian
	if !(angle > 0 && angle < math.Pi) {
		f, _ := s.node.find("fieldOfView")
		s.doc.syntax(span(int(f.start), int(f.end)), "expected fieldOfView of %s to lie between 0 and pi; pi/4 is used", s.node.label())
		angle = math.Pi / 4
	}
	cam.FocalLength = focalLength(angle)
	cam.VerticalAperture, cam.HorizontalAperture = pictureHeight, pictureHeight
	dr, ok := s.drives[target{s.node, "fieldOfView"}]
	if !ok {
		return
	}
	for _, curve := range s.curvesOf(dr) {
		cam.FocalLengthChannel = s.channel(scene.Channel{
			Part: s.part, Op: scene.NoOp, Name: "fieldOfView", Quantity: scene.Number,
			Curve: lensCurve(curve, s.doc.radian), Def: dr.interp.head, Block: dr.interp.valueSpan(),
		})
	}
}

// orthographic sets the picture of an OrthoViewpoint, whose field of view is
// the corners of the picture.
func (s stack) orthographic(cam *scene.Camera) {
	corners := []float64{-1, -1, 1, 1}
	s.doc.vector(s.node, "fieldOfView", corners)
	width, height := corners[2]-corners[0], corners[3]-corners[1]
	if !(width > 0 && height > 0) {
		f, _ := s.node.find("fieldOfView")
		s.doc.syntax(span(int(f.start), int(f.end)), "expected fieldOfView of %s to be the lower left and the upper right corner; -1 -1 1 1 is used", s.node.label())
		corners, width, height = []float64{-1, -1, 1, 1}, 2, 2
	}
	cam.Orthographic, cam.AspectKnown = true, true
	cam.HorizontalAperture, cam.VerticalAperture = width, height
	cam.HorizontalOffset, cam.VerticalOffset = (corners[0]+corners[2])/2, (corners[1]+corners[3])/2
}

// focalLength returns the focal length that shows the angle (radians) over the
// height of the picture.
func focalLength(angle float64) float64 {
	return pictureHeight / 2 / math.Tan(angle/2)
}

// lensSlope is the derivative of focalLength.
func lensSlope(angle float64) float64 {
	sin := math.Sin(angle / 2)
	return -pictureHeight / 4 / (sin * sin)
}

// lensCurve turns a curve of fields of view into one of focal lengths. Between
// two keys it is the cubic that has the right slope at both.
func lensCurve(angles scene.Curve, radian float64) scene.Curve {
	n := angles.Len()
	lens := angles
	lens.Values, lens.PreValues = make([]float64, n), nil
	lens.Default, lens.Interp = scene.Bezier, nil
	lens.Step = 0
	lens.Handles = &scene.Handles{InV: make([]float64, n), OutV: make([]float64, n)}
	for i := range n {
		angle := min(max(angles.Values[i]*radian, 1e-3), math.Pi-1e-3)
		lens.Values[i] = focalLength(angle)
		if i+1 < n {
			lens.Handles.OutV[i] = lensSlope(angle) * (angles.Values[i+1] - angles.Values[i]) * radian / 3
		}
		if i > 0 {
			lens.Handles.InV[i] = -lensSlope(angle) * (angles.Values[i] - angles.Values[i-1]) * radian / 3
		}
	}
	return lens
}
