package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

const demoSpline, demoPolish = "../../testdata/demo/deckhand_spline.usda", "../../testdata/demo/deckhand_polish.usda"

func TestChart(t *testing.T) {
	out := filepath.Join(t.TempDir(), "head.svg")
	for _, tt := range []struct {
		name   string
		args   string
		status int
		want   string // in the picture, or on standard error
	}{
		{"standard output", "chart " + demoSpline + " --part /Tug/hips/spine/chest/neck/head", 0, "<title>head spacing, frames 1001-1096</title>"},
		{"to a file", "chart --kind timeline --frames 1028-1052 -o " + out + " " + demoSpline, 0, "<title>Tug timeline, frames 1028-1052</title>"},
		{"two passes", "chart --kind arc --part hand_l --frames 1001-1040 --before " + demoSpline + " " + demoPolish, 0, ">before</text>"},
		{"no such kind", "chart --kind curve " + demoSpline, 2, `unknown --kind "curve"; expected spacing, arc, timeline, speed or keys`},
		{"no such part", "chart --part hand " + demoSpline, 2, `no part "hand"; there are /Tug/`},
		{"several parts", "chart --part head " + demoSpline, 2, `2 parts end in "head": /Tug/hips/spine/chest/neck/head, /Gull/torso/neck/head; give more of the path`},
		{"no such frames", "chart --frames 1-20 " + demoSpline, 2, "frames 1-20 are outside the shot, which has 1001-1096"},
		{"no picture's name", "chart -o head.jpg " + demoSpline, 2, `--output: expected a name that ends in .svg or .png, found "head.jpg"`},
		{"no size", "chart --size big " + demoSpline, 2, `--size: expected such as 720x405, from 160x90 to 4000x4000, found "big"`},
		{"no file", "chart", 2, "chart needs the path of one scene file"},
		{"missing file", "chart no.usda", 2, "no.usda does not exist"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			var stdout, stderr bytes.Buffer
			status := run(context.Background(), strings.Fields(tt.args), streams{nil, &stdout, &stderr})
			said := stdout.String() + stderr.String()
			if strings.Contains(tt.args, out) {
				raw, err := os.ReadFile(out)
				if err != nil {
					t.Fatal(err)
				}
				said = string(raw)
			}
			if status != tt.status || !strings.Contains(said, tt.want) {
				t.Errorf("status %d, want %d with %q in:\n%.400s", status, tt.status, tt.want, said)
			}
		})
	}
}
