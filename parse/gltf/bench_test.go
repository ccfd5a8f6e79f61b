package gltf

import (
	"bytes"
	"encoding/base64"
	"fmt"
	"math"
	"testing"

	"github.com/go-json-experiment/json/jsontext"

	"curvelint/cmd/lab/scenetest"
	"curvelint/parse/scene"
)

// bake writes an invented rope of joints that sways: a rotation a joint, keyed
// on every frame at 24.
func bake(joints, frames int) []byte {
	f := newFile()
	times := make([]float32, frames)
	for i := range times {
		times[i] = float32(i) / 24
	}
	in := f.floats("SCALAR", times...)
	var nodes, channels, samplers []any
	for j := range joints {
		values := make([]float32, 0, 4*frames)
		for i := range frames {
			s, c := math.Sincos(0.5 * math.Sin(float64(i)*0.05+float64(j)))
			values = append(values, float32(s), 0, 0, float32(c))
		}
		out := f.floats("VEC4", values...)
		node := map[string]any{"name": fmt.Sprint("rope", j)}
		if j+1 < joints {
			node["children"] = []int{j + 1}
		}
		nodes = append(nodes, node)
		channels = append(channels, map[string]any{"sampler": j, "target": map[string]any{"node": j, "path": "rotation"}})
		samplers = append(samplers, map[string]any{"input": in, "output": out})
	}
	f.top["nodes"] = nodes
	f.top["animations"] = []any{map[string]any{"channels": channels, "samplers": samplers}}
	return f.bytes()
}

// tokens reads all tokens of the JSON and does nothing with them.
func tokens(src []byte) {
	d := jsontext.NewDecoder(bytes.NewBuffer(src))
	for {
		if _, err := d.ReadToken(); err != nil {
			return
		}
	}
}

// decoded decodes the base64 of the one buffer at once.
func decoded(b *testing.B, src []byte) {
	_, rest, _ := bytes.Cut(src, []byte("base64,"))
	text, _, _ := bytes.Cut(rest, []byte(`"`))
	if _, err := base64.StdEncoding.Decode(make([]byte, base64.StdEncoding.DecodedLen(len(text))), text); err != nil {
		b.Fatal(err)
	}
}

// BenchmarkParse reads a 64-joint bake of 10,000 frames. In the same run it
// walks the JSON token by token and decodes its base64, the least that any
// reader must do; ratio is how many times faster the whole scene is made than
// these two, and scene-B/B its memory without the text, for one byte of file.
func BenchmarkParse(b *testing.B) {
	src := bake(64, 10000)
	for _, workers := range []int{1, 2} {
		b.Run(fmt.Sprintf("workers=%d", workers), func(b *testing.B) {
			scenetest.BenchParse(b, src,
				func() *scene.Scene { return parse("bake.gltf", src, scene.ReadOptions{}, workers) },
				func(s *scene.Scene) bool { return len(s.Channels) == 64 },
				"tokens+base64", func() { tokens(src); decoded(b, src) })
		})
	}
}
