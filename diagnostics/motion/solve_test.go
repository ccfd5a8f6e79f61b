package motion

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"curvelint/cmd/lab/smallscene"
	"curvelint/diagnostics/motion/body"
	"curvelint/parse/scene"
)

func TestDriversSumToOne(t *testing.T) {
	b := smallscene.New(48)
	hip := b.Part("/hips", "hips", scene.NoPart, smallscene.Op(scene.Translate, 0, 10, 0), smallscene.Op(scene.RotateZ, 0))
	chest := b.Part("/hips/chest", "chest", hip, smallscene.Op(scene.Translate, 0, 4, 0), smallscene.Op(scene.RotateXYZ, 0, 0, 0))
	head := b.Part("/hips/chest/head", "head", chest, smallscene.Op(scene.Translate, 0, 3, 0), smallscene.Op(scene.RotateXYZ, 0, 0, 0))
	b.Part("/hips/chest/head/head_tip", "head_tip", head, smallscene.Op(scene.Translate, 0, 2, 0))
	x := b.Animate(hip, 0, 0, scene.Length, func(f float64) float64 { return f / 10 })
	z := b.Animate(chest, 1, 2, scene.Angle, func(f float64) float64 { return -f / 2 })
	y := b.Animate(head, 1, 2, scene.Angle, func(f float64) float64 { return f / 10 })
	s := New(&b.Scene, Options{})
	figs := s.Figures()
	if len(figs) != 1 || math.Abs(figs[0].Size-9) > 1e-12 {
		t.Fatalf("got %d figures, size %v", len(figs), figs[0].Size)
	}
	for i, p := range figs[0].Points {
		if p.Role != body.HeadPoint {
			continue
		}
		shares := s.Drivers(figs[0].PointTrack(i), 5, 40)
		sum := 0.0
		got := map[scene.ChannelID]float64{}
		for _, sh := range shares {
			sum += sh.Value
			got[sh.Channel] = sh.Value
		}
		if math.Abs(sum-1) > 0.01 {
			t.Errorf("shares sum to %g", sum)
		}
		if !(got[x] > got[z] && got[z] > 0 && got[y] < 0) {
			t.Errorf("shares %v", shares)
		}
		return
	}
	t.Error("no head point")
}

func TestViewProjects(t *testing.T) {
	b := smallscene.New(10)
	cam := b.Part("/cam", "cam", scene.NoPart, smallscene.Op(scene.Translate, 0, 0, 10))
	b.Scene.Parts[cam].Kind = scene.CameraPart
	n := scene.NoChannel
	b.Scene.Cameras = []scene.Camera{{Part: cam, FocalLength: 50, HorizontalAperture: 20, VerticalAperture: 10, AspectKnown: true,
		FocalLengthChannel: n, HorizontalChannel: n, VerticalChannel: n, HorizontalOffsetChan: n, VerticalOffsetChan: n}}
	v := New(&b.Scene, Options{}).View()
	if v == nil || v.Aspect != 2 {
		t.Fatalf("view %+v", v)
	}
	e := v.At(0)
	// Pinhole: 1 unit up at a distance of 10 is 1/10 * 50/10 of the picture's height.
	x, y, d, ok := e.Project(r3.Vec{X: -1, Y: 1})
	l := e.Lens()
	if q := l.Inverse.Point(r3.Vec{X: -1, Y: 1}); math.Abs(l.Scale*q.X/-q.Z-l.OffsetX-x) > 1e-12 || math.Abs(l.Scale*q.Y/-q.Z-l.OffsetY-y) > 1e-12 {
		t.Errorf("the lens %+v puts the point elsewhere than (%g, %g)", l, x, y)
	}
	if !ok || math.Abs(x+0.5) > 1e-12 || math.Abs(y-0.5) > 1e-12 || math.Abs(d-10) > 1e-12 {
		t.Errorf("got %g %g %g %v", x, y, d, ok)
	}
	if _, _, _, ok := e.Project(r3.Vec{Z: 11}); ok {
		t.Error("a point behind the camera is seen")
	}
}

// TestOneAngleOfView: a camera with one angle and no shape of its own shows it over
// the shorter side of the configured picture (ISO/IEC 19775-1, Viewpoint).
func TestOneAngleOfView(t *testing.T) {
	b := smallscene.New(10)
	cam := b.Part("/cam", "cam", scene.NoPart, smallscene.Op(scene.Translate, 0, 0, 10))
	b.Scene.Parts[cam].Kind = scene.CameraPart
	n := scene.NoChannel
	b.Scene.Cameras = []scene.Camera{{Part: cam, FocalLength: 10, HorizontalAperture: 20, VerticalAperture: 20,
		FocalLengthChannel: n, HorizontalChannel: n, VerticalChannel: n, HorizontalOffsetChan: n, VerticalOffsetChan: n}}
	for _, tt := range []struct{ aspect, x, y float64 }{
		{2, 1, 0.5},       // 90 degrees over the height: the edge at a slope of 1
		{0.5, 0.25, 0.25}, // over the width, half as long as the height
	} {
		v := New(&b.Scene, Options{Aspect: tt.aspect}).View()
		e := v.At(0)
		x, y, _, _ := e.Project(r3.Vec{X: 10 * max(1, tt.aspect), Y: 10})
		if math.Abs(x-tt.x) > 1e-12 || math.Abs(y-tt.y) > 1e-12 {
			t.Errorf("aspect %g: got %g %g, want %g %g", tt.aspect, x, y, tt.x, tt.y)
		}
	}
}
