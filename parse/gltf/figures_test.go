package gltf

import (
	"encoding/json"
	"strings"
	"testing"

	"curvelint/parse/scene"
)

// TestFigures gives a hierarchy (one word a node: name, then the numbers of
// its children) with skins, and which parts are roots of figures and joints.
func TestFigures(t *testing.T) {
	type skin struct {
		Joints   []int `json:"joints"`
		Skeleton *int  `json:"skeleton,omitempty"`
	}
	at := func(i int) *int { return &i }
	deck := []string{"deck:1,6", "deckhand:2", "hips:3,4", "spine:5", "leg", "head", "gull:7", "wing"}
	for _, test := range []struct {
		name  string
		skins []skin
		want  string
	}{
		{"one skin", []skin{{Joints: []int{2, 3, 4, 5}}}, "hips joint figure, spine joint, head joint, leg joint"},
		{"skeleton named", []skin{{Joints: []int{2, 3}, Skeleton: at(1)}}, "deckhand root figure, hips joint, spine joint"},
		{"several roots", []skin{{Joints: []int{3, 4}}}, "hips root figure, spine joint, leg joint"},
		{"a hat on the head", []skin{{Joints: []int{2, 3, 4, 5}}, {Joints: []int{5}}}, "hips joint figure, spine joint, head joint, leg joint"},
		{"two bodies", []skin{{Joints: []int{2, 3}}, {Joints: []int{6, 7}}}, "hips joint figure, spine joint, gull joint figure, wing joint"},
		{"two bodies under one named root", []skin{{Joints: []int{2, 3}, Skeleton: at(0)}, {Joints: []int{6, 7}, Skeleton: at(0)}}, "hips joint figure, spine joint, gull joint figure, wing joint"},
	} {
		var nodes []map[string]any
		for _, word := range deck {
			name, children, _ := strings.Cut(word, ":")
			n := map[string]any{"name": name}
			var list []int
			if json.Unmarshal([]byte("["+children+"]"), &list); len(list) > 0 {
				n["children"] = list
			}
			nodes = append(nodes, n)
		}
		src, _ := json.Marshal(map[string]any{"asset": map[string]any{"version": "2.0"}, "nodes": nodes, "scenes": []any{map[string]any{"nodes": []int{0}}}, "skins": test.skins})
		s := read(t, src)
		var got []string
		for _, p := range s.Parts {
			word := p.Name
			switch p.Kind {
			case scene.Joint:
				word += " joint"
			case scene.SkeletonRoot:
				word += " root"
			}
			if p.Figure {
				word += " figure"
			}
			if word != p.Name {
				got = append(got, word)
			}
		}
		if strings.Join(got, ", ") != test.want {
			t.Errorf("%s: %s, want %s", test.name, strings.Join(got, ", "), test.want)
		}
	}
}
