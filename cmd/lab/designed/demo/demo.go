// Package demo makes the files of testdata/demo from the designed shot of the
// night ferry.
package demo

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"

	"curvelint/cmd/lab/designed"
	"curvelint/cmd/lab/designed/write"
)

// File is one file of the demo, its path relative to testdata/demo with forward
// slashes.
type File struct {
	Path string
	Text []byte
}

// plan is one shot written in one format.
type plan struct {
	path   string
	pass   designed.Pass
	format string
	write  func(io.Writer, *designed.Take) error
}

func plans() []plan {
	return []plan{
		{"deckhand_spline.usda", designed.SplinePass, "usda", write.USDA},
		{"deckhand_polish.usda", designed.PolishPass, "usda", write.USDA},
		{"deckhand_retimed.usda", designed.RetimedPass, "usda", write.USDA},
		{"deckhand_spline.bvh", designed.SplinePass, "bvh", write.BVH},
		{"deckhand_polish.bvh", designed.PolishPass, "bvh", write.BVH},
		{"formats/deckhand_spline.gltf", designed.SplinePass, "gltf", write.GLTF},
		{"formats/deckhand_polish.gltf", designed.PolishPass, "gltf", write.GLTF},
		{"formats/deckhand_spline.dae", designed.SplinePass, "collada", write.COLLADA},
		{"formats/deckhand_polish.dae", designed.PolishPass, "collada", write.COLLADA},
		{"formats/deckhand_spline.x3d", designed.SplinePass, "x3d", write.X3D},
		{"formats/deckhand_polish.x3d", designed.PolishPass, "x3d", write.X3D},
		{"formats/deckhand_spline.csv", designed.SplinePass, "table", write.Table},
		{"formats/deckhand_polish.csv", designed.PolishPass, "table", write.Table},
	}
}

// Files makes all files of the demo.
func Files() ([]File, error) {
	takes := map[string]*designed.Take{}
	labels := map[string][]label{}
	var files []File
	for _, p := range plans() {
		take := takes[p.pass.Name]
		if take == nil {
			take = designed.Deckhand(p.pass).Take(24)
			takes[p.pass.Name] = take
		}
		var b bytes.Buffer
		if err := p.write(&b, take); err != nil {
			return nil, fmt.Errorf("writing %s: %w", p.path, err)
		}
		files = append(files, File{p.path, b.Bytes()})
		labels[p.path] = labelsOf(take, p.format)
	}
	text, err := json.MarshalIndent(labels, "", "  ")
	if err != nil {
		return nil, err
	}
	return append(files, File{"labels.json", append(text, '\n')}), nil
}

// label is a planted flaw as written in labels.json.
type label struct {
	Check string `json:"check"`
	// Part is where the note belongs; Also are parts that explain it as well.
	Part   string   `json:"part"`
	Also   []string `json:"also,omitempty"`
	Frames [2]int   `json:"frames"`
	Why    string   `json:"why"`
}

func labelsOf(t *designed.Take, format string) []label {
	out := []label{}
	for i := range t.Shot.Labels {
		l := &t.Shot.Labels[i]
		if !l.In(format) {
			continue
		}
		first, last := l.Frames(t)
		out = append(out, label{l.Check, l.Part, l.Also, [2]int{first, last}, l.Why})
	}
	return out
}
