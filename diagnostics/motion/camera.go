package motion

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/diagnostics/motion/solve"
	"curvelint/diagnostics/motion/track"
	"curvelint/diagnostics/motion/vec"
	"curvelint/parse/scene"
)

// View is the picture of the shot's camera.
type View struct {
	study *Study
	cam   *scene.Camera
	// Aspect is the picture's width over its height.
	Aspect float64
}

// View returns the picture of the shot's camera: the configured one, else the
// file's default, else its only one; nil when there is none or the picture's
// aspect is not known.
func (s *Study) View() *View {
	cam := s.camera()
	if cam == nil {
		return nil
	}
	v := &View{study: s, cam: cam, Aspect: s.Options.Aspect}
	if v.Aspect == 0 && cam.AspectKnown && cam.VerticalAperture > 0 {
		v.Aspect = cam.HorizontalAperture / cam.VerticalAperture
	}
	if v.Aspect <= 0 {
		return nil
	}
	return v
}

func (s *Study) camera() *scene.Camera {
	cams := s.Scene.Cameras
	want := s.Scene.DefaultCamera
	if s.Options.Camera != "" {
		want = s.Scene.Find(s.Options.Camera)
		if want == scene.NoPart {
			return nil
		}
	}
	for i := range cams {
		if cams[i].Part == want {
			return &cams[i]
		}
	}
	if s.Options.Camera == "" && len(cams) == 1 {
		return &cams[0]
	}
	return nil
}

// Part returns the camera's part.
func (v *View) Part() scene.PartID { return v.cam.Part }

// Eye is the camera at one frame, ready to project.
type Eye struct {
	inverse      solve.Affine
	orthographic bool
	kx, ky       float64 // picture heights per unit of slope (or of length)
	ox, oy       float64 // aperture offset in picture heights
}

// At returns the camera at display frame t.
func (v *View) At(t float64) Eye {
	c := v.cam
	value := func(static float64, id scene.ChannelID) float64 {
		if id == scene.NoChannel || int(id) >= len(v.study.Scene.Channels) || id < 0 {
			return static
		}
		out := [16]float64{static}
		solve.EvalCurve(&v.study.Scene.Channels[id].Curve, t, out[:])
		return out[0]
	}
	m := v.study.WorldAt(c.Part, t)
	e := Eye{inverse: m.Inverse(), orthographic: c.Orthographic}
	h, w := value(c.VerticalAperture, c.VerticalChannel), value(c.HorizontalAperture, c.HorizontalChannel)
	switch {
	case w > 0 && h > 0 && !c.AspectKnown:
		// One angle for the picture's shorter side (ISO/IEC 19775-1, Viewpoint:
		// the smaller of the two angles of view).
		h = max(h, h/v.Aspect)
	case w > 0 && (h <= 0 || v.Aspect > 0):
		// A configured aspect crops or extends the picture's height: the width
		// of the view is what a lens is named by.
		h = w / v.Aspect
	}
	f := value(c.FocalLength, c.FocalLengthChannel)
	if c.Orthographic {
		f = 1
	}
	if h > 0 {
		e.kx, e.ky = f/h, f/h
		e.ox = value(c.HorizontalOffset, c.HorizontalOffsetChan) / h
		e.oy = value(c.VerticalOffset, c.VerticalOffsetChan) / h
	}
	return e
}

// Lens is a camera as numbers: Project is
//
//	q = Inverse p, depth = -q.z
//	x = Scale q.x / depth - OffsetX, y = Scale q.y / depth - OffsetY
//
// without the division when Orthographic.
type Lens struct {
	Inverse                 solve.Affine
	Scale, OffsetX, OffsetY float64 // picture heights
	Orthographic            bool
}

// Lens returns the camera as numbers.
func (e *Eye) Lens() Lens { return Lens{e.inverse, e.kx, e.ox, e.oy, e.orthographic} }

// Project returns where the world point p falls in the picture, in picture
// heights from its centre, x to the right and y up, and its depth in front of
// the camera in scene units. ok is false behind the camera.
func (e *Eye) Project(p r3.Vec) (x, y, depth float64, ok bool) {
	q := e.inverse.Point(p)
	depth = -q.Z
	if e.orthographic {
		return q.X*e.kx - e.ox, q.Y*e.ky - e.oy, depth, depth > 0
	}
	if depth <= 0 || math.IsNaN(depth) {
		return 0, 0, depth, false
	}
	return q.X/depth*e.kx - e.ox, q.Y/depth*e.ky - e.oy, depth, true
}

// ScreenTrack returns the path of the figure's i-th point in the picture, in
// picture heights (X to the right, Y up, Z zero), or nil without a view. Frames
// behind the camera keep the place before.
func (v *View) ScreenTrack(fig *Figure, i int) *track.Track {
	s := v.study
	if s.Scene.Parts[fig.Points[i].Part].Kind == scene.PictureTrack {
		return fig.PointTrack(i)
	}
	key := trackKey{scene.PartID(fig.Index), scene.ChannelID(i), screenPoint}
	return s.tracks.get(key, func() *track.Track {
		world := fig.PointTrack(i)
		t := s.newTrack(world.Name, world.Part, scene.NoChannel, track.Position, track.Screen)
		var last r3.Vec
		for f := range t.X {
			e := v.At(s.Frame(f))
			p := r3.Add(vec.Of(world.Origin), r3.Scale(world.Unit, world.At(f)))
			if x, y, _, ok := e.Project(p); ok {
				last = r3.Vec{X: x, Y: y}
			}
			t.Put(f, last)
		}
		t.Settle()
		return t
	})
}
