package gltf

import (
	"bytes"
	"fmt"
	"math"
	"math/rand"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"curvelint/cmd/lab/scenetest"
	"curvelint/parse/scene"
)

var asFound = cmp.Options{cmpopts.EquateNaNs(), cmpopts.EquateEmpty()}

// checkReread applies an edit to a scene and, if it could be re-read, holds it
// against a whole reading. It returns whether it could.
func checkReread(t *testing.T, old *scene.Scene, e scene.Edit) (scene.Reread, bool) {
	t.Helper()
	r, ok := Reread(old, e)
	if !ok {
		return r, false
	}
	src := old.Files[0].Text
	after := bytes.Join([][]byte{src[:e.Start], e.New, src[e.End:]}, nil)
	want := Parse("a.gltf", after, scene.ReadOptions{Clip: old.Clip})
	if !reflect.DeepEqual(want, r.Scene) { // which is quicker
		if d := cmp.Diff(want, r.Scene, asFound); d != "" {
			t.Fatalf("edit %d-%d %q: %s", e.Start, e.End, e.New, d)
		}
	}
	changed := map[scene.ChannelID]bool{}
	for _, id := range r.Changed {
		changed[id] = true
	}
	for i := range want.Channels {
		if same := reflect.DeepEqual(want.Channels[i].Curve, old.Channels[i].Curve); same == changed[scene.ChannelID(i)] {
			t.Fatalf("channel %d: same %v, named %v", i, same, !same)
		}
	}
	moved := map[scene.PartID]bool{}
	for _, id := range r.Parts {
		moved[id] = true
	}
	for i := range want.Parts {
		for k, op := range want.Parts[i].Ops {
			if slices.Equal(op.Value, old.Parts[i].Ops[k].Value) || moved[scene.PartID(i)] {
				continue
			}
			driven := 0
			for _, c := range old.Channels {
				if c.Part == scene.PartID(i) && c.Op == k {
					driven += c.Curve.Stride
				}
			}
			if driven != op.Kind.Width() {
				t.Fatalf("part %d: op %d differs and is not named", i, k)
			}
		}
	}
	return r, true
}

// unchanged holds a scene against what its text says.
func unchanged(t *testing.T, s *scene.Scene) {
	t.Helper()
	if d := cmp.Diff(Parse("a.gltf", s.Files[0].Text, scene.ReadOptions{Clip: s.Clip}), s, asFound); d != "" {
		t.Errorf("the old scene changed: %s", d)
	}
}

// hauled is a file of all that a channel may be: a deckhand on a skeleton, a
// gull with a mesh, a lens; whole numbers, tangents, sparse accessors; two
// clips; a picture and a second buffer.
func hauled() []byte {
	f := newFile()
	n := 18
	times := make([]float32, n)
	wave := func(width int) []float32 {
		list := make([]float32, width*n)
		for i := range list {
			list[i] = float32(math.Sin(float64(i)*0.21)) * 0.5
		}
		return list
	}
	for i := range times {
		times[i] = float32(i) / 24
	}
	in := f.floats("SCALAR", times...)
	short := f.floats("SCALAR", times[:n/3]...)
	bytesOf := make([]int8, 4*n)
	for i := range bytesOf {
		bytesOf[i] = int8(40 + i%50)
	}
	outs := []int{f.floats("VEC3", wave(3)...), f.accessor(bytesOf, "VEC4", 5120, n), f.floats("VEC3", wave(3)[:3*3*(n/3)]...),
		f.floats("SCALAR", wave(2)...), f.floats("SCALAR", wave(1)...), f.floats("VEC3", wave(3)...)}
	f.accessors[outs[1]]["normalized"] = true
	f.accessors[outs[5]]["sparse"] = map[string]any{"count": 2,
		"indices": map[string]any{"bufferView": f.view([]uint16{3, 9}), "componentType": 5123},
		"values":  map[string]any{"bufferView": f.view([]float32{1, 2, 3, 4, 5, 6})}}
	channel := func(sampler, node int, path string) any {
		return map[string]any{"sampler": sampler, "target": map[string]any{"node": node, "path": path}}
	}
	lens := map[string]any{"sampler": 4, "target": map[string]any{"path": "pointer", "extensions": map[string]any{
		"KHR_animation_pointer": map[string]any{"pointer": "/cameras/0/perspective/yfov"}}}}
	var samplers []any
	for i, out := range outs {
		s := map[string]any{"input": in, "output": out}
		if i == 2 {
			s["input"], s["interpolation"] = short, "CUBICSPLINE"
		}
		samplers = append(samplers, s)
	}
	f.top["animations"] = []any{
		map[string]any{"name": "haul", "samplers": samplers, "channels": []any{channel(0, 0, "translation"), channel(1, 1, "rotation"),
			channel(2, 1, "translation"), channel(3, 2, "weights"), lens, channel(5, 2, "scale"), channel(0, 3, "scale")}},
		map[string]any{"name": "rest", "samplers": samplers[:1], "channels": []any{channel(0, 0, "translation")}},
	}
	f.top["nodes"] = []any{
		map[string]any{"name": "hips", "children": []int{1}, "translation": []float64{0, 0.9, 0}},
		map[string]any{"name": "chest", "children": []int{2}, "rotation": []float64{0, 0, 0, 1}, "scale": []float64{1, 1, 1.25}},
		map[string]any{"name": "gull", "mesh": 0, "skin": 0},
		map[string]any{"name": "lens", "camera": 0, "translation": []float64{1, 2, 3}},
		map[string]any{"name": "winch", "matrix": []int{1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 2, 3, 4, 1}},
	}
	f.top["scenes"] = []any{map[string]any{"nodes": []int{0, 3, 4}}}
	f.top["scene"] = 0
	f.top["skins"] = []any{map[string]any{"joints": []int{0, 1}}}
	f.top["meshes"] = []any{map[string]any{"weights": []float64{0, 0.5}, "primitives": []any{},
		"extras": map[string]any{"targetNames": []string{"beak", "lid"}}}}
	f.top["cameras"] = []any{map[string]any{"type": "perspective", "perspective": map[string]any{"yfov": 0.5, "znear": 0.1}}}
	f.top["materials"] = []any{map[string]any{"name": "oilskin, \"yellow\""}}
	f.top["images"] = []any{map[string]any{"uri": "data:image/png;base64," + strings.Repeat("iVBO", 100)}}
	return f.bytes()
}

func TestReread(t *testing.T) {
	src := hauled()
	old := Parse("a.gltf", src, scene.ReadOptions{})
	if len(old.Problems) > 0 || len(old.Channels) != 16 {
		t.Fatal(len(old.Channels), old.Problems)
	}
	for _, test := range []struct {
		old, new string
		want     bool
		parts    int
	}{
		{"0.9", "0.95", true, 0}, // moved by channels at all times
		{"0.9", "9", true, 0},
		{"1.25", "12.5e-1", true, 0},
		{"1.25", "1.5", true, 1},
		{"1.25", "x", false, 0},
		{"1.25", "1.25, 2", false, 0},
		{"1.25", "1e400", false, 0},
		{"oilskin", "coat", true, 0},
		{"oilskin", "oilskin\\u0041", true, 0},
		{"oilskin", "\"oilskin", false, 0},
		{"\"gull\"", "\"gulls\"", false, 0}, // a name is a path
		{"\"lens\"", "  \"lens\" ", true, 0},
		{"\"beak\"", "\"bill\"", false, 0},
		{"\"haul\"", "\"pull\"", false, 0},
		{"\"rest\"", "\"stay\"", false, 0},
		{"CUBICSPLINE", "LINEAR", false, 0},
		{"\"yfov\": 0.5", "\"yfov\": 0.6", false, 0},
		{"\"scene\": 0", "\n\n\"scene\" : 0", true, 0},
		{"\"2.0\"", "\"2.1\"", true, 0},
		{"\"2.0\"", "\"3.0\"", false, 0},
		{"data:image/png", "data:image/jpg", false, 0},
		{"data:application", "date:application", false, 0},
	} {
		at := bytes.Index(src, []byte(test.old))
		e := scene.Edit{Start: at, End: at + len(test.old), New: []byte(test.new)}
		r, got := checkReread(t, old, e)
		if got != test.want || len(r.Parts) != test.parts {
			t.Errorf("%q to %q: re-read %v, %d parts; want %v, %d", test.old, test.new, got, len(r.Parts), test.want, test.parts)
		}
	}
	unchanged(t, old)
}

// TestRereadKeys changes every third digit of the data.
func TestRereadKeys(t *testing.T) {
	src := hauled()
	old := Parse("a.gltf", src, scene.ReadOptions{})
	at := bytes.Index(src, []byte("octet-stream;base64,")) + len("octet-stream;base64,")
	end := at + bytes.IndexByte(src[at:], '"')
	done, most, all := 0, 0, 0
	rnd := rand.New(rand.NewSource(1))
	for i := at; i < end; i += 3 {
		e := scene.Edit{Start: i, End: i + 1, New: []byte{"ABCxyz019+/="[rnd.Intn(12)]}}
		if r, ok := checkReread(t, old, e); ok {
			done, most, all = done+1, max(most, len(r.Changed)), all+len(r.Changed)
		}
	}
	// Times come first, which a whole reading is for; a vector has three channels
	// and drives two parts.
	if done < (end-at)/6 || most > 6 || all < done/2 {
		t.Errorf("%d of %d digits re-read, at most %d and in all %d channels changed", done, end-at, most, all)
	}
	unchanged(t, old)
}

// TestRereadAnywhere makes random edits of a few bytes at many places.
func TestRereadAnywhere(t *testing.T) {
	pieces := []string{"", "1", " ", "\n", ".5", "-", ",", "{", "\"", "\\", "A", "=", "data:", "}"}
	rnd := rand.New(rand.NewSource(2))
	for _, clip := range []string{"", "rest"} {
		src := hauled()
		old := Parse("a.gltf", src, scene.ReadOptions{Clip: clip})
		done := 0
		for i := 0; i < len(src); i += 1 + rnd.Intn(6) {
			end := min(len(src), i+rnd.Intn(2))
			if _, ok := checkReread(t, old, scene.Edit{Start: i, End: end, New: []byte(pieces[rnd.Intn(len(pieces))])}); ok {
				done++
			}
		}
		unchanged(t, old)
		if done < 100 {
			t.Errorf("clip %q: %d edits of %d bytes re-read", clip, done, len(src))
		}
	}
}

// FuzzReread: a scene that was read again is the same as one read anew.
func FuzzReread(f *testing.F) {
	src := hauled()
	f.Add(src, bytes.Index(src, []byte("0.9")), 3, []byte("7"))
	f.Add(src, bytes.LastIndex(src, []byte("base64,"))+600, 2, []byte("Ab"))
	f.Add(bake(2, 60), 1500, 1, []byte("1"))
	f.Fuzz(func(t *testing.T, src []byte, start, length int, text []byte) {
		if start < 0 || length < 0 || start > len(src) || length > len(src)-start {
			return
		}
		checkReread(t, Parse("a.gltf", src, scene.ReadOptions{}), scene.Edit{Start: start, End: start + length, New: text})
	})
}

// BenchmarkReread changes a static number, then a key; ratio is how many times
// faster that is than reading the whole file.
func BenchmarkReread(b *testing.B) {
	for _, frames := range []int{100, 2000, 20000} {
		src := bytes.Replace(bake(24, frames), []byte(`"name": "rope0"`), []byte(`"name": "rope0", "translation": [0, 0.9, 0]`), 1)
		old := Parse("a.gltf", src, scene.ReadOptions{})
		still := bytes.Index(src, []byte("0.9"))
		key := bytes.Index(src, []byte("base64,")) + len(src)/2
		for name, at := range map[string]int{"static": still, "key": key} {
			b.Run(fmt.Sprintf("%dKB/%s", len(src)/1000, name), func(b *testing.B) {
				e := scene.Edit{Start: at, End: at + 1, New: []byte("7"), Text: bytes.Clone(src)}
				e.Text[at] = '7'
				scenetest.BenchReread(b,
					func() bool { _, ok := Reread(old, e); return ok },
					func() { Parse("a.gltf", src, scene.ReadOptions{}) })
			})
		}
	}
}
