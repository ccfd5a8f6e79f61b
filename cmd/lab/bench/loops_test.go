package main

import (
	"encoding/base64"
	"math"
	"testing"

	"curvelint/parse"
	"curvelint/parse/scene"
)

// Both loops find the same numbers: the baselines do the work that they stand for.
func TestLoopsOverNumbers(t *testing.T) {
	tests := []struct {
		src string
		sum float64
	}{
		{"", 0},
		{"no numbers here", 0},
		{"1 2 3", 6},
		{"(0.5, -1.25)\t.25\n", -0.5},
		{"1e2 -2.5e-1 12345678901234567890", 100 - 0.25 + 12345678901234567890},
		{"x=7;y=-7.5", -0.5},
	}
	for _, tt := range tests {
		for name, loop := range map[string]func([]byte){"strconv": strconvLoop, "decimal": decimalLoop} {
			Kept = math.NaN()
			if loop([]byte(tt.src)); math.Abs(Kept-tt.sum) > 1e-12*math.Abs(tt.sum) {
				t.Errorf("%s of %q: %g, want %g", name, tt.src, Kept, tt.sum)
			}
		}
	}
}

// The loops over tokens come to an end on whole text and on text that is cut or wrong
// anywhere, and the base64 is decoded.
func TestLoopsOverTokens(t *testing.T) {
	data := base64.StdEncoding.EncodeToString(make([]byte, 300))
	json := []byte(`{"buffers": [{"uri": "data:application/octet-stream;base64,` + data + `", "byteLength": 300}]}`)
	xml := []byte("<a><b c='d'>1 2 3</b><!-- e --></a>")
	for i := range len(json) {
		jsonLoop(json[:i])
		jsontextLoop(json[:i])
	}
	for i := range len(xml) {
		xmlLoop(xml[:i])
	}
	Kept = 0
	if jsontextLoop(json); Kept != 300 {
		t.Errorf("%g bytes of base64, want 300", Kept)
	}
}

// Every format's bakes are read without a problem, have the frames they should and
// come out at about the size that was asked for.
func TestBakes(t *testing.T) {
	for _, f := range formats {
		src, err := f.bake(8, 40)
		if err != nil {
			t.Fatal(err)
		}
		sc := parse.Parse("bake."+f.extension, src, scene.ReadOptions{})
		if len(sc.Problems) > 0 || len(sc.Channels) == 0 || sc.Last-sc.First != 39 {
			t.Errorf("%s: %d channels, frames %g-%g, problems %v", f.name, len(sc.Channels), sc.First, sc.Last, sc.Problems)
		}
		const size = 200_000
		src, err = f.sized(8, size)
		if err != nil || math.Abs(float64(len(src))-size) > 0.1*size {
			t.Errorf("%s: %d bytes for %d, %v", f.name, len(src), size, err)
		}
	}
	flawed := format{"BVH full of flaws", "bvh", writeFlawed}
	src, err := flawed.bake(8, 40)
	if err != nil {
		t.Fatal(err)
	}
	if sc := parse.Parse("flawed.bvh", src, scene.ReadOptions{}); len(sc.Problems) > 0 || sc.Last-sc.First != 39 {
		t.Errorf("flawed: frames %g-%g, problems %v", sc.First, sc.Last, sc.Problems)
	}
}

// Wrong sections are named before anything is measured.
func TestRunNamesUnknownSections(t *testing.T) {
	var b bench
	if err := b.run("parse,nonsense", ""); err == nil || b.out != nil {
		t.Errorf("%v, report %v", err, b.out)
	}
}
