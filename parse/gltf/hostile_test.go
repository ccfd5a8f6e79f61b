package gltf

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"curvelint/cmd/lab/scenetest"
	"curvelint/parse/scene"
)

func checkScene(t *testing.T, s *scene.Scene) {
	t.Helper()
	if err := scenetest.Check(s); err != nil {
		t.Fatal(err)
	}
}

// TestTruncated cuts an export at 200 places: what is there is used, and that
// something is missing is said.
func TestTruncated(t *testing.T) {
	src := bake(6, 40)
	for i := range 200 {
		n := len(src) * i / 200
		s := Parse("bake.gltf", src[:n], scene.ReadOptions{})
		checkScene(t, s)
		if len(s.Problems) == 0 || s.Problems[len(s.Problems)-1].Kind != scene.PartialExport {
			t.Errorf("of a file cut at %d of %d is said %v", n, len(src), s.Problems)
		}
	}
}

// flight is a file with an animated node.
func flight() *file {
	f := newFile()
	f.animate("translation", "LINEAR", f.floats("SCALAR", 0, 1), f.floats("VEC3", 1, 2, 3, 4, 5, 6))
	return f
}

// hostile are files that ask for more than they hold.
func hostile() map[string][]byte {
	whole := string(flight().bytes())
	with := func(change func(f *file)) []byte {
		f := flight()
		change(f)
		return f.bytes()
	}
	nan := float32(math.NaN())
	inf := float32(math.Inf(1))
	overlap := func(f *file) {
		data := f.view(make([]float32, 30000))
		var channels, samplers, nodes []any
		for i := range 300 {
			f.accessors = append(f.accessors, map[string]any{"bufferView": data, "componentType": 5126, "type": "VEC3", "count": 10000})
			samplers = append(samplers, map[string]any{"input": 0, "output": len(f.accessors) - 1})
			channels = append(channels, map[string]any{"sampler": i, "target": map[string]any{"node": i, "path": "translation"}})
			nodes = append(nodes, map[string]any{})
		}
		f.top["nodes"] = nodes
		f.top["animations"] = []any{map[string]any{"channels": channels, "samplers": samplers}}
	}
	chain := make([]any, 10000)
	for i := range chain {
		chain[i] = map[string]any{"children": []int{i + 1}}
	}
	crowd := make([]any, 3000)
	for i := range crowd {
		crowd[i] = map[string]any{"mesh": 0}
	}
	return map[string][]byte{
		"counts that lie":  with(func(f *file) { f.accessors[0]["count"], f.accessors[1]["count"] = 1<<40, 1<<52 }),
		"zeros that lie":   with(func(f *file) { delete(f.accessors[1], "bufferView"); f.accessors[1]["count"] = 1 << 52 }),
		"offsets that lie": with(func(f *file) { f.accessors[1]["byteOffset"] = 1 << 52 }),
		"strides that lie": with(func(f *file) { f.views[1]["byteStride"] = 1 << 52 }),
		"views that lie":   with(func(f *file) { f.views[1]["byteOffset"], f.views[1]["byteLength"] = 1<<52, 1<<52 }),
		"4 GiB":            []byte(strings.Replace(whole, `"byteLength": 32`, `"byteLength": 4294967296`, 1)),
		"sparse that lies": with(func(f *file) {
			f.accessors[1]["sparse"] = map[string]any{"count": 1 << 40, "indices": map[string]any{"bufferView": 0, "componentType": 5125}, "values": map[string]any{"bufferView": 1}}
		}),
		"overlapping": with(overlap),
		"deep nodes":  with(func(f *file) { f.top["nodes"] = chain; f.top["scenes"] = []any{map[string]any{"nodes": []int{0}}} }),
		"cycle": with(func(f *file) {
			f.top["nodes"] = []any{map[string]any{"children": []int{1}}, map[string]any{"children": []int{0}}}
			f.top["scenes"] = []any{map[string]any{"nodes": []int{0}}}
		}),
		"itself": with(func(f *file) {
			f.top["nodes"] = []any{map[string]any{"children": []int{0}}}
			f.top["scenes"] = []any{map[string]any{"nodes": []int{0}}}
		}),
		"crowd of morphs": with(func(f *file) {
			f.top["nodes"] = crowd
			f.top["meshes"] = []any{map[string]any{"weights": make([]int, 3000)}}
		}),
		"no such things": with(func(f *file) {
			f.top["nodes"] = []any{map[string]any{"mesh": 9, "camera": 9, "skin": 9, "children": []int{9}}}
			f.top["skins"] = []any{map[string]any{"joints": []int{9}, "skeleton": 9}}
		}),
		"negative":      []byte(strings.ReplaceAll(whole, `"sampler": 0`, `"sampler": -1`)),
		"huge numbers":  []byte(strings.ReplaceAll(whole, `"sampler": 0`, `"sampler": 1e999`)),
		"fractions":     []byte(strings.ReplaceAll(whole, `"sampler": 0`, `"sampler": 0.5`)),
		"deep extras":   []byte(`{"asset":{"version":"2.0"},"extras":` + strings.Repeat("[", 100000) + strings.Repeat("]", 100000) + `}`),
		"deep and open": []byte(`{"nodes":` + strings.Repeat(`[{"a":`, 100000)),
		"not base64":    []byte(strings.Replace(whole, "base64,AAAA", "base64,A\u00e9?A", 1)),
		"a file":        []byte(strings.Replace(whole, "data:application", "../../../etc/", 1)),
		"no uri":        []byte(strings.Replace(whole, `"uri"`, `"url"`, 1)),
		"not finite": with(func(f *file) {
			f.animate("translation", "LINEAR", f.floats("SCALAR", 0, nan, 1, inf), f.floats("VEC3", nan, 1, 1, 2, 2, 2, inf, 3, 3, 4, 4, 4))
		}),
		"times that go back": with(func(f *file) {
			f.animate("translation", "LINEAR", f.floats("SCALAR", 1, 0, 1, 2), f.floats("VEC3", 1, 1, 1, 2, 2, 2, 3, 3, 3, 4, 4, 4))
		}),
		"more inputs": with(func(f *file) {
			f.animate("translation", "LINEAR", f.floats("SCALAR", 0, 1, 2, 3), f.floats("VEC3", 1, 1, 1, 2, 2, 2))
		}),
		"wrong type":          with(func(f *file) { f.accessors[1]["type"] = "MAT4" }),
		"wrong component":     with(func(f *file) { f.accessors[1]["componentType"] = 5130 }),
		"wrong interpolation": with(func(f *file) { f.animate("translation", "SMOOTH", 0, 1) }),
		"animated matrix":     with(func(f *file) { f.top["nodes"] = []any{map[string]any{"matrix": make([]float64, 16)}} }),
		"version cut":         []byte(`{"asset": {"version": 2`),
		"two commas":          []byte(strings.Replace(whole, ",", ",,", 1)),
		"a comma behind":      []byte(whole + ","),
		"text behind":         []byte(whole + "{}"),
		"an array":            []byte("[1, 2]"),
		"zero bytes":          []byte(strings.Repeat("\x00", 10000)),
		"no UTF-8":            []byte(strings.Replace(whole, "gull", "g\xff\xfe\"", 1)),
		"one long name":       []byte(strings.Replace(whole, "gull", strings.Repeat("g", 1000000)+"\\", 1)),
	}
}

// TestHostile: files that ask for more than they hold get a problem and cost
// no more than what they hold.
func TestHostile(t *testing.T) {
	for name, src := range hostile() {
		t.Run(name, func(t *testing.T) {
			var s *scene.Scene
			n := scenetest.Allocated(func() { s = Parse("x.gltf", src, scene.ReadOptions{}) })
			checkScene(t, s)
			if len(s.Problems) == 0 {
				t.Error("nothing is said of it")
			}
			// Values and weights have a floor that is not the file's.
			if most := uint64(100*len(src) + 60<<20); n > most {
				t.Errorf("%d bytes allocated for a file of %d", n, len(src))
			}
		})
	}
}

// FuzzParse checks the promises of every scene.
func FuzzParse(f *testing.F) {
	for _, src := range hostile() {
		if len(src) < 5000 {
			f.Add(src)
		}
	}
	f.Add(bake(2, 3))
	cubic := newFile()
	cubic.animate("rotation", "CUBICSPLINE", cubic.floats("SCALAR", 0, 3), cubic.floats("VEC4", make([]float32, 24)...))
	f.Add(cubic.bytes())
	weights := newFile()
	weights.top["nodes"] = []any{map[string]any{"mesh": 0, "camera": 0, "skin": 0}}
	weights.top["cameras"] = []any{map[string]any{"perspective": map[string]any{"yfov": 1, "aspectRatio": 2}}}
	weights.top["meshes"] = []any{map[string]any{"weights": []any{0, 0}, "extras": map[string]any{"targetNames": []any{"beak", 3}}}}
	weights.animate("weights", "STEP", weights.floats("SCALAR", 0, 1), weights.accessor([]uint8{1, 2, 3, 4}, "SCALAR", 5121, 4))
	f.Add(weights.bytes())
	weights.accessors[1]["count"] = 2
	for _, pointer := range []string{"/nodes/0/weights/1", "/cameras/0/perspective/yfov", "/materials/0"} {
		weights.pointer(pointer)
		f.Add(weights.bytes())
	}
	for _, src := range scenetest.Broken(f, "../../testdata/broken/gltf/*.txtar") {
		f.Add(src)
	}
	open := func(from, name string) (string, []byte, error) {
		if name == "" {
			return "", nil, fmt.Errorf("no name")
		}
		return name, make([]byte, 100), nil
	}
	f.Fuzz(func(t *testing.T, src []byte) {
		s := Parse("x.gltf", src, scene.ReadOptions{Open: open})
		checkScene(t, s)
		if len(s.Problems) == 0 && !json.Valid(src) && !strings.HasPrefix(string(src), "\uFEFF") {
			t.Errorf("nothing is said of what is no JSON")
		}
	})
}
