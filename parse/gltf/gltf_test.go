package gltf

import (
	"bytes"
	"encoding/base64"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"curvelint/cmd/lab/scenetest"
	"curvelint/parse/scene"
)

// file builds a glTF file, invented data: buffers in a data URI, one buffer
// view for each accessor.
type file struct {
	data      bytes.Buffer
	views     []map[string]any
	accessors []map[string]any
	top       map[string]any
}

func newFile() *file {
	return &file{top: map[string]any{"asset": map[string]any{"version": "2.0"}}}
}

// view adds bytes and returns the number of their buffer view.
func (f *file) view(values any) int {
	for f.data.Len()%4 != 0 {
		f.data.WriteByte(0)
	}
	start := f.data.Len()
	if err := binary.Write(&f.data, binary.LittleEndian, values); err != nil {
		panic(err)
	}
	f.views = append(f.views, map[string]any{"buffer": 0, "byteOffset": start, "byteLength": f.data.Len() - start})
	return len(f.views) - 1
}

// accessor adds an accessor of count elements and returns its number.
func (f *file) accessor(values any, kind string, component, count int) int {
	f.accessors = append(f.accessors, map[string]any{
		"bufferView": f.view(values), "componentType": component, "type": kind, "count": count,
	})
	return len(f.accessors) - 1
}

// floats adds an accessor of floats.
func (f *file) floats(kind string, values ...float32) int {
	return f.accessor(values, kind, 5126, len(values)/kindWidths[kind])
}

// animate adds an animation with one channel.
func (f *file) animate(path, interpolation string, input, output int) {
	f.top["animations"] = []any{map[string]any{
		"channels": []any{map[string]any{"sampler": 0, "target": map[string]any{"node": 0, "path": path}}},
		"samplers": []any{map[string]any{"input": input, "output": output, "interpolation": interpolation}},
	}}
}

func (f *file) bytes() []byte {
	if f.top["nodes"] == nil {
		f.top["nodes"] = []any{map[string]any{"name": "gull"}}
	}
	if f.views != nil {
		f.top["bufferViews"], f.top["accessors"] = f.views, f.accessors
	}
	f.top["buffers"] = []any{map[string]any{
		"byteLength": f.data.Len(),
		"uri":        "data:application/octet-stream;base64," + base64.StdEncoding.EncodeToString(f.data.Bytes()),
	}}
	src, err := json.MarshalIndent(f.top, "", " ")
	if err != nil {
		panic(err)
	}
	return src
}

// read parses a file that must have no problems.
func read(t *testing.T, src []byte) *scene.Scene {
	t.Helper()
	s := Parse("gull.gltf", src, scene.ReadOptions{})
	for _, p := range s.Problems {
		t.Errorf("%s at %q: %s", p.Kind, src[p.Span.Start:p.Span.End], p.Message)
	}
	if err := scenetest.Check(s); err != nil {
		t.Error(err)
	}
	return s
}

func near(a, b []float64) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if math.Abs(a[i]-b[i]) > 1e-7 {
			return false
		}
	}
	return true
}

func TestTranslation(t *testing.T) {
	f := newFile()
	f.animate("translation", "LINEAR", f.floats("SCALAR", 0, 0.5, 1), f.floats("VEC3", 1, 2, 3, 4, 5, 6, 7, 8, 9))
	src := f.bytes()
	s := read(t, src)
	if s.Format != "gltf" || s.Rate != 24 || s.First != 0 || s.Last != 24 || s.MetersPerUnit != 1 || s.Up != scene.AxisY || s.Clip != "animation0" {
		t.Errorf("scene %+v", s)
	}
	if len(s.Parts) != 1 || s.Parts[0].Path != "/gull" || len(s.Channels) != 3 {
		t.Fatalf("parts %+v, channels %+v", s.Parts, s.Channels)
	}
	for j, name := range []string{"translation.x", "translation.y", "translation.z"} {
		c := s.Channels[j]
		v := float64(j)
		if c.Name != name || c.Op != 0 || c.Component != j || !near(c.Curve.Doubles(), []float64{v + 1, v + 4, v + 7}) || !near(c.Curve.Times, []float64{0, 12, 24}) || !c.Curve.Float32 {
			t.Errorf("channel %+v", c)
		}
	}
	c := s.Channels[0]
	var channel struct {
		Sampler int
		Target  struct{ Path string }
	}
	if err := json.Unmarshal(src[c.Def.Start:c.Def.End], &channel); err != nil || channel.Target.Path != "translation" {
		t.Errorf("channel declared at %q: %v", src[c.Def.Start:c.Def.End], err)
	}
	if at := s.Parts[0].NameSpan; string(src[at.Start:at.End]) != "gull" {
		t.Errorf("name at %q", src[at.Start:at.End])
	}
}

func TestRotationOrder(t *testing.T) {
	f := newFile()
	f.top["nodes"] = []any{map[string]any{"rotation": []float64{0.5, 0.5, 0.5, -0.5}, "translation": []float64{1, 2, 3}, "scale": []float64{2, 2, 2}}}
	f.animate("rotation", "STEP", f.floats("SCALAR", 0, 1), f.floats("VEC4", 0.1, 0.2, 0.3, 0.9, 0.4, 0.5, 0.6, 0.7))
	s := read(t, f.bytes())
	c := s.Channels[0].Curve
	if !near(c.Doubles(), []float64{float64(float32(0.9)), float64(float32(0.1)), float64(float32(0.2)), float64(float32(0.3)), 0.7, 0.4, 0.5, 0.6}) || c.Stride != 4 || c.Default != scene.Held {
		t.Errorf("curve %+v", c)
	}
	if !near(s.Parts[0].Ops[1].Value, []float64{-0.5, 0.5, 0.5, 0.5}) || s.Parts[0].Name != "node0" {
		t.Errorf("part %+v", s.Parts[0])
	}
	// A turn by 240 degrees about (1, 1, 1) takes x to z, y to x, z to y.
	want := scene.Mat4{0, 2, 0, 1, 0, 0, 2, 2, 2, 0, 0, 3, 0, 0, 0, 1}
	if !near(s.Parts[0].Rest[:], want[:]) {
		t.Errorf("rest %v", s.Parts[0].Rest)
	}
}

// TestCubicSpline: tangents are per second (glTF 2.0, Appendix C.5).
func TestCubicSpline(t *testing.T) {
	f := newFile()
	f.animate("scale", "CUBICSPLINE", f.floats("SCALAR", 0, 2), f.floats("VEC3",
		9, 9, 9, 1, 2, 3, 6, 12, 18, // in, value, out
		3, -3, 0, 7, 8, 9, 9, 9, 9))
	s := read(t, f.bytes())
	c := s.Channels[1].Curve
	if c.Default != scene.Bezier || !near(c.Doubles(), []float64{2, 8}) {
		t.Fatalf("curve %+v", c)
	}
	h := c.Handles
	if h.InT != nil || h.OutT != nil || !near(h.OutV, []float64{12 * 2.0 / 3, 0}) || !near(h.InV, []float64{0, 3 * 2.0 / 3}) {
		t.Errorf("handles %+v", h)
	}
}

func TestCubicRotation(t *testing.T) {
	f := newFile()
	f.animate("rotation", "CUBICSPLINE", f.floats("SCALAR", 0, 3), f.floats("VEC4",
		0, 0, 0, 0, 0, 0, 0, 1, 1, 2, 3, 4,
		5, 6, 7, 8, 1, 0, 0, 0, 0, 0, 0, 0))
	s := read(t, f.bytes())
	c := s.Channels[0].Curve
	if !near(c.Doubles(), []float64{1, 0, 0, 0, 0, 1, 0, 0}) || !near(c.Handles.OutV, []float64{4, 1, 2, 3, 0, 0, 0, 0}) || !near(c.Handles.InV, []float64{0, 0, 0, 0, -8, -5, -6, -7}) {
		t.Errorf("curve %+v %+v", c, c.Handles)
	}
}

// TestComponents reads weights of 0, a half and 1 in every component type.
func TestComponents(t *testing.T) {
	for _, test := range []struct {
		component int
		values    any
		want      []float64
	}{
		{5126, []float32{0, 0.5, 1}, []float64{0, 0.5, 1}},
		{5120, []int8{0, -128, 127}, []float64{0, -1, 1}}, // max(c/127, -1)
		{5121, []uint8{0, 51, 255}, []float64{0, 0.2, 1}},
		{5122, []int16{0, -32768, 32767}, []float64{0, -1, 1}},
		{5123, []uint16{0, 13107, 65535}, []float64{0, 0.2, 1}},
	} {
		f := newFile()
		f.top["nodes"] = []any{map[string]any{"mesh": 0, "name": "gull"}}
		f.top["meshes"] = []any{map[string]any{"primitives": []any{map[string]any{"targets": []any{map[string]any{}}}}, "extras": map[string]any{"targetNames": []any{"beak"}}}}
		out := f.accessor(test.values, "SCALAR", test.component, 3)
		f.accessors[out]["normalized"] = test.component != 5126
		f.animate("weights", "LINEAR", f.floats("SCALAR", 0, 1, 2), out)
		s := read(t, f.bytes())
		if len(s.Parts) != 2 || s.Parts[1].Path != "/gull/beak" || s.Parts[1].Kind != scene.Weight {
			t.Fatalf("parts %+v", s.Parts)
		}
		c := s.Channels[0]
		if c.Part != 1 || c.Op != scene.NoOp || c.Quantity != scene.Share || !near(c.Curve.Doubles(), test.want) {
			t.Errorf("component type %d: %+v", test.component, c)
		}
	}
}

func TestSeveralWeights(t *testing.T) {
	for _, pointer := range []bool{false, true} {
		f := newFile()
		f.top["nodes"] = []any{map[string]any{"mesh": 0}}
		f.top["meshes"] = []any{map[string]any{"weights": []any{0, 0, 0}, "extras": map[string]any{"targetNames": []any{"beak", "eye"}}}}
		f.animate("weights", "LINEAR", f.floats("SCALAR", 0, 1), f.floats("SCALAR", 1, 2, 3, 4, 5, 6))
		if pointer {
			f.accessors[1]["count"] = 2
			f.pointer("/nodes/0/weights/2")
		}
		s := read(t, f.bytes())
		if len(s.Parts) != 4 || s.Parts[3].Name != "weight2" {
			t.Fatalf("parts %+v", s.Parts)
		}
		if pointer {
			if c := s.Channels[0]; c.Part != 3 || !near(c.Curve.Doubles(), []float64{1, 2}) {
				t.Errorf("channel %+v", c)
			}
			continue
		}
		if len(s.Channels) != 3 || !near(s.Channels[1].Curve.Doubles(), []float64{2, 5}) || s.Channels[2].Part != 3 {
			t.Errorf("channels %+v", s.Channels)
		}
	}
}

func TestByteOrderMark(t *testing.T) {
	f := newFile()
	f.animate("translation", "LINEAR", f.floats("SCALAR", 0, 1), f.floats("VEC3", 1, 2, 3, 4, 5, 6))
	src := append([]byte("\uFEFF"), f.bytes()...)
	s := read(t, src)
	if at := s.Parts[0].NameSpan; string(src[at.Start:at.End]) != "gull" || len(s.Channels) != 3 {
		t.Errorf("name at %q, %d channels", src[at.Start:at.End], len(s.Channels))
	}
}

// TestLayouts reads the same values through strides, offsets, sparse elements
// and no buffer view at all.
func TestLayouts(t *testing.T) {
	want := []float64{2, 5, 8}
	for name, change := range map[string]func(f *file, out map[string]any){
		"tight": func(f *file, out map[string]any) {},
		"stride": func(f *file, out map[string]any) {
			out["bufferView"] = f.view([]float32{1, 2, 3, -1, 4, 5, 6, -1, 7, 8, 9, -1})
			f.views[len(f.views)-1]["byteStride"] = 16
		},
		"offset": func(f *file, out map[string]any) {
			out["bufferView"] = f.view([]float32{-1, 1, 2, 3, 4, 5, 6, 7, 8, 9})
			out["byteOffset"] = 4
		},
		"sparse": func(f *file, out map[string]any) {
			out["bufferView"] = f.view([]float32{1, 2, 3, -1, -1, -1, 7, 8, 9})
			out["sparse"] = map[string]any{"count": 1,
				"indices": map[string]any{"bufferView": f.view([]uint16{1}), "componentType": 5123},
				"values":  map[string]any{"bufferView": f.view([]float32{4, 5, 6})}}
		},
		"zeros and sparse": func(f *file, out map[string]any) {
			delete(out, "bufferView")
			out["sparse"] = map[string]any{"count": 3,
				"indices": map[string]any{"bufferView": f.view([]byte{0, 1, 2}), "componentType": 5121},
				"values":  map[string]any{"bufferView": f.view([]float32{1, 2, 3, 4, 5, 6, 7, 8, 9})}}
		},
	} {
		f := newFile()
		out := f.floats("VEC3", 1, 2, 3, 4, 5, 6, 7, 8, 9)
		f.animate("translation", "LINEAR", f.floats("SCALAR", 0, 1, 2), out)
		change(f, f.accessors[out])
		if s := read(t, f.bytes()); len(s.Channels) != 3 || !near(s.Channels[1].Curve.Doubles(), want) {
			t.Errorf("%s: %+v", name, s.Channels)
		}
	}
}

// TestLongBuffer crosses the blocks in which base64 is decoded, at each of the
// three places in which a group of it can begin.
func TestLongBuffer(t *testing.T) {
	for pad := range 4 {
		f := newFile()
		f.view(make([]float32, pad))
		const n = 5000
		times, values := make([]float32, n), make([]float32, 3*n)
		for i := range times {
			times[i] = float32(i) / 24
			values[3*i], values[3*i+1], values[3*i+2] = float32(i), float32(2*i), float32(3*i)
		}
		f.animate("translation", "LINEAR", f.floats("SCALAR", times...), f.floats("VEC3", values...))
		s := read(t, f.bytes())
		for i := range n {
			for j := range 3 {
				if v := s.Channels[j].Curve.Value(i); v != float64((j+1)*i) {
					t.Fatalf("pad %d: component %d of key %d is %v", pad, j, i, v)
				}
			}
			if s.Channels[0].Curve.Times[i] != float64(i) {
				t.Fatalf("key %d at %v", i, s.Channels[0].Curve.Times[i])
			}
		}
	}
}

func TestBuffers(t *testing.T) {
	f := newFile()
	f.animate("translation", "LINEAR", f.floats("SCALAR", 0, 1), f.floats("VEC3", 1, 2, 3, 4, 5, 6))
	src := string(f.bytes())
	inline := base64.StdEncoding.EncodeToString(f.data.Bytes())
	uri := "data:application/octet-stream;base64," + inline
	var percent strings.Builder
	for _, b := range f.data.Bytes() {
		fmt.Fprintf(&percent, "%%%02x", b)
	}
	for _, other := range []string{
		"data:application/gltf-buffer;base64," + inline, "data:;base64," + strings.TrimRight(inline, "="),
		"data:application/octet-stream;base64," + strings.ReplaceAll(inline, "/", `\/`),
		"data:application/octet-stream;base64," + inline[:20] + `\n` + inline[20:],
		"data:application/octet-stream," + percent.String(),
		"gull%20flight.bin",
	} {
		changed := strings.Replace(src, uri, other, 1)
		s := Parse("shots/gull.gltf", []byte(changed), scene.ReadOptions{Open: func(from, name string) (string, []byte, error) {
			if from != "shots/gull.gltf" || name != "gull flight.bin" {
				t.Errorf("opened %q from %q", name, from)
			}
			return "shots/gull flight.bin", f.data.Bytes(), nil
		}})
		if len(s.Problems) > 0 || len(s.Channels) != 3 || !near(s.Channels[1].Curve.Doubles(), []float64{2, 5}) {
			t.Errorf("%.60s: %v %+v", other, s.Problems, s.Channels)
		}
	}
}

func TestClips(t *testing.T) {
	f := newFile()
	f.animate("translation", "LINEAR", f.floats("SCALAR", 0, 1), f.floats("VEC3", 1, 2, 3, 4, 5, 6))
	first := f.top["animations"].([]any)[0].(map[string]any)
	second := map[string]any{"name": "dive", "channels": first["channels"], "samplers": []any{map[string]any{"input": f.floats("SCALAR", 0, 3), "output": 1}}}
	f.top["animations"] = []any{first, second}
	src := f.bytes()
	if s := read(t, src); s.Clip != "animation0" || fmt.Sprint(s.OtherClips) != "[dive]" || s.Last != 24 {
		t.Errorf("clip %q of %q, last frame %v", s.Clip, s.OtherClips, s.Last)
	}
	s := Parse("gull.gltf", src, scene.ReadOptions{Clip: "dive", Rate: 30})
	if s.Clip != "dive" || s.Last != 90 || len(s.Problems) > 0 {
		t.Errorf("clip %q, last frame %v, %v", s.Clip, s.Last, s.Problems)
	}
	s = Parse("gull.gltf", src, scene.ReadOptions{Clip: "glide"})
	if s.Clip != "animation0" || len(s.Problems) != 1 || !strings.Contains(s.Problems[0].Message, `no animation called "glide"; it has "animation0", "dive"`) {
		t.Errorf("clip %q, %v", s.Clip, s.Problems)
	}
}

func TestMatrixNode(t *testing.T) {
	f := newFile()
	f.top["nodes"] = []any{map[string]any{"matrix": []float64{1, 2, 3, 0, 4, 5, 6, 0, 7, 8, 9, 0, 10, 11, 12, 1}}}
	s := read(t, f.bytes())
	want := []float64{1, 4, 7, 10, 2, 5, 8, 11, 3, 6, 9, 12, 0, 0, 0, 1}
	if op := s.Parts[0].Ops[0]; op.Kind != scene.Matrix || !near(op.Value, want) || !near(s.Parts[0].Rest[:], want) {
		t.Errorf("part %+v", s.Parts[0])
	}
}
