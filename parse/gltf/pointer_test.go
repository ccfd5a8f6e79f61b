package gltf

import (
	"math"
	"testing"

	"curvelint/parse/scene"
)

// TestMeshPointer: the weights of a mesh move all nodes with it.
func TestMeshPointer(t *testing.T) {
	f := newFile()
	f.top["nodes"] = []any{map[string]any{"mesh": 0}, map[string]any{"mesh": 0}}
	f.top["meshes"] = []any{map[string]any{"weights": []any{0, 0}}}
	f.animate("", "LINEAR", f.floats("SCALAR", 0, 1), f.floats("SCALAR", 1, 2, 3, 4))
	f.pointer("/meshes/0/weights")
	s := read(t, f.bytes())
	if len(s.Channels) != 4 || s.Parts[s.Channels[3].Part].Path != "/node1/weight1" || !near(s.Channels[3].Curve.Doubles(), []float64{2, 4}) {
		t.Errorf("channels %+v", s.Channels)
	}
}

// pointer makes the one channel an animation pointer.
func (f *file) pointer(path string) {
	animation := f.top["animations"].([]any)[0].(map[string]any)
	animation["channels"] = []any{map[string]any{"sampler": 0, "target": map[string]any{"path": "pointer",
		"extensions": map[string]any{"KHR_animation_pointer": map[string]any{"pointer": path}}}}}
}

func TestPointers(t *testing.T) {
	for _, test := range []struct{ pointer, kind, want string }{
		{"/nodes/0/translation", "VEC3", "translation.x"},
		{"/nodes/0/rotation", "VEC4", "rotation"},
		{"/nodes/0/scale", "VEC3", "scale.x"},
		{"/cameras/0/perspective/yfov", "SCALAR", "yfov"},
	} {
		f := newFile()
		f.top["nodes"] = []any{map[string]any{"camera": 0}}
		f.top["cameras"] = []any{map[string]any{"type": "perspective", "perspective": map[string]any{"yfov": math.Pi / 2, "aspectRatio": 2, "znear": 0.1}}}
		f.animate("", "LINEAR", f.floats("SCALAR", 0, 1), f.floats(test.kind, make([]float32, 2*kindWidths[test.kind])...))
		f.pointer(test.pointer)
		s := read(t, f.bytes())
		if len(s.Channels) == 0 || s.Channels[0].Name != test.want {
			t.Errorf("%s: %+v", test.pointer, s.Channels)
		}
		cam := s.Cameras[0]
		if cam.FocalLength != 12 || cam.VerticalAperture != 24 || cam.HorizontalAperture != 48 || !cam.AspectKnown || s.Parts[0].Kind != scene.CameraPart {
			t.Errorf("camera %+v", cam)
		}
		if test.want == "yfov" && cam.FocalLengthChannel != 0 {
			t.Errorf("lens channel %d", cam.FocalLengthChannel)
		}
	}
}

// TestSharedLens: two nodes with one camera have the same lens, and its curve is
// mapped once for each.
func TestSharedLens(t *testing.T) {
	f := newFile()
	f.top["nodes"] = []any{map[string]any{"camera": 0}, map[string]any{"camera": 0}}
	f.top["cameras"] = []any{map[string]any{"type": "perspective", "perspective": map[string]any{"yfov": 1, "znear": 0.1}}}
	f.animate("", "CUBICSPLINE", f.floats("SCALAR", 0, 1), f.floats("SCALAR", 0, 1, 0.5, 0.5, 1.5, 0))
	f.pointer("/cameras/0/perspective/yfov")
	s := read(t, f.bytes())
	a, b := s.Channels[0].Curve, s.Channels[1].Curve
	if !near(a.Doubles(), []float64{focalLength(1), focalLength(1.5)}) || !near(a.Handles.OutV, []float64{focalSlope(1) * 0.5 / 3, 0}) || !near(a.Handles.OutV, b.Handles.OutV) || !near(a.Doubles(), b.Values) {
		t.Errorf("curves %+v %+v, %+v %+v", a, a.Handles, b, b.Handles)
	}
}

// TestLensSlope holds the slope of the focal length against differences.
func TestLensSlope(t *testing.T) {
	for _, v := range []float64{0.2, 0.8, 1.5, 2.5} {
		const h = 1e-6
		if got, want := focalSlope(v), (focalLength(v+h)-focalLength(v-h))/(2*h); math.Abs(got-want) > 1e-5*math.Abs(want) {
			t.Errorf("slope at %v is %v, want %v", v, got, want)
		}
	}
}
