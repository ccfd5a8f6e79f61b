package workspace

import (
	"strings"
	"testing"

	"curvelint/parse"
	"curvelint/parse/scene"
)

// What ends early may still be on its way; what holds more than it says is there.
func TestBroken(t *testing.T) {
	const whole = "HIERARCHY\nROOT drum\n{\n\tOFFSET 0 90 0\n\tCHANNELS 1 Zrotation\n\tEnd Site\n\t{\n\t\tOFFSET 0 20 0\n\t}\n}\n" +
		"MOTION\nFrames: 2\nFrame Time: 0.0416667\n1\n2\n"
	tests := []struct {
		name, text string
		broken     bool
	}{
		{"whole", whole, false},
		{"one frame line more than it says", whole + "3\n", false},
		{"one frame line less", strings.TrimSuffix(whole, "2\n"), true},
		{"cut in the hierarchy", whole[:60], true},
		{"a word among the numbers", whole + "three\n", true},
	}
	for _, tt := range tests {
		r := &Read{Scene: parse.Parse("drum.bvh", []byte(tt.text), scene.ReadOptions{})}
		if r.Broken() != tt.broken {
			t.Errorf("%s: broken %v, problems %v", tt.name, r.Broken(), r.Scene.Problems)
		}
	}
}
