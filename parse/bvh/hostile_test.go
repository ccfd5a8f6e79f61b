package bvh

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"curvelint/cmd/lab/scenetest"
	"curvelint/parse/scene"
)

// TestTruncated cuts an export at 200 places: what is there is used, and that
// something is missing is said.
func TestTruncated(t *testing.T) {
	src := bake(6, 40)
	whole := Parse("bake.bvh", src, scene.ReadOptions{})
	for i := range 200 {
		n := len(src) * i / 200
		s := Parse("bake.bvh", src[:n], scene.ReadOptions{})
		scenetest.Hold(t, s)
		if len(s.Problems) == 0 {
			t.Errorf("nothing is said of a file cut at %d of %d", n, len(src))
		}
		for c := range s.Channels {
			if len(s.Channels) < len(whole.Channels) {
				break
			}
			got, want := &s.Channels[c].Curve, &whole.Channels[c].Curve
			for k, v := range got.Values {
				if v != want.Values[k] || got.Times[k] != want.Times[k] {
					t.Fatalf("cut at %d: key %d of channel %d is %v, want %v", n, k, c, v, want.Values[k])
				}
			}
		}
	}
}

// TestHostile: counts that lie and nesting without end cost no more than the
// file itself.
func TestHostile(t *testing.T) {
	head := "HIERARCHY\nROOT a\n{\nOFFSET 0 0 0\nCHANNELS 1 Xrotation\n}\nMOTION\n"
	deep := "HIERARCHY\nROOT a\n{\n" + strings.Repeat("JOINT b\n{\nOFFSET 0 0 0\nCHANNELS 1 Xrotation\n", 10000) +
		strings.Repeat("}\n", 10001) + "MOTION\nFrames: 2\nFrame Time: 0.04\n" + strings.Repeat("1 ", 10000) + "\n"
	var wide strings.Builder
	wide.WriteString("HIERARCHY\nROOT a\n{\nOFFSET 0 0 0\n")
	for range 20000 {
		wide.WriteString("JOINT b { OFFSET 0 0 0 CHANNELS 3 Xrotation Yrotation Zrotation }\n")
	}
	wide.WriteString("}\nMOTION\nFrames: 100000\nFrame Time: 0.04\n" + strings.Repeat("1\n", 100000))
	long := strings.Repeat("n", 200)
	names := "HIERARCHY\n" + strings.Repeat("ROOT "+long+"\n{\nOFFSET 0 0 0\n", 200) + strings.Repeat("JOINT c {OFFSET 0 0 0}\n", 20000)
	for name, src := range map[string]string{
		"frames that are not there":   head + "Frames: 999999999\nFrame Time: 0.04\n1\n2\n",
		"frames beyond a number":      head + "Frames: 1e300\nFrame Time: 1e-300\n1\n2\n",
		"channels that are not there": strings.Replace(head, "CHANNELS 1", "CHANNELS 999999999", 1) + "Frames: 1\nFrame Time: 0.04\n1\n",
		"deep":                        deep,
		"deep and open":               deep[:len(deep)/3],
		"many channels, short lines":  wide.String(),
		"long paths":                  names,
		"open braces":                 "HIERARCHY\n" + strings.Repeat("{", 200000),
		"closed braces":               "HIERARCHY\n" + strings.Repeat("}", 200000),
		"one long word":               strings.Repeat("x", 1000000),
		"one long name":               "HIERARCHY\nROOT " + strings.Repeat("x", 1000000),
		"one long number":             head + "Frames: 1\nFrame Time: 0.04\n" + strings.Repeat("1", 1000000) + "\n",
		"many broken numbers":         head + "Frames: 1\nFrame Time: 0.04\n" + strings.Repeat("x1\n1x\n", 100000),
		"zero bytes":                  "HIERARCHY\n" + strings.Repeat("\x00", 100000),
		"no UTF-8":                    "HIERARCHY\nROOT \xff\xfe\n{\nOFFSET \xc0 0 0\n}\nMOTION\n\xff",
	} {
		t.Run(name, func(t *testing.T) {
			var s *scene.Scene
			n := scenetest.Allocated(func() { s = Parse("x.bvh", []byte(src), scene.ReadOptions{}) })
			scenetest.Hold(t, s)
			if len(s.Problems) == 0 {
				t.Error("nothing is said of it")
			}
			if most := uint64(100*len(src) + 1<<20); n > most {
				t.Errorf("%d bytes allocated for a file of %d", n, len(src))
			}
		})
	}
}

// TestDeep: joints beyond the limit are left out, and the columns of the
// others stay right.
func TestDeep(t *testing.T) {
	src := "HIERARCHY\nROOT a {OFFSET 0 0 0 CHANNELS 1 Xrotation\nJOINT b {OFFSET 0 0 0 CHANNELS 1 Xrotation\n" +
		"JOINT c {OFFSET 0 0 0 CHANNELS 1 Xrotation\nJOINT d {OFFSET 0 0 0 CHANNELS 1 Xrotation\n}}}\n" +
		"JOINT e {OFFSET 0 0 0 CHANNELS 1 Xrotation\n}}\nMOTION\nFrames: 1\nFrame Time: 0.04\n1 2 3 4 5\n"
	s := Parse("x.bvh", []byte(src), scene.ReadOptions{MaxDepth: 2})
	scenetest.Hold(t, s)
	got := fmt.Sprint(len(s.Parts), s.Channels[0].Curve.Values, s.Channels[1].Curve.Values, s.Channels[2].Curve.Values)
	if got != "3 [1] [2] [5]" || len(s.Problems) != 1 || !strings.Contains(s.Problems[0].Message, "deeper than 2") {
		t.Errorf("%s, %v", got, s.Problems)
	}
}

// TestCapturedMotion reads the captures of Debian's package assimp-testmodels.
// The counts of channels and frames are those of the files' own headers.
func TestCapturedMotion(t *testing.T) {
	files, _ := filepath.Glob(filepath.Join(scenetest.Models(t), "BVH", "*.bvh"))
	if len(files) == 0 {
		t.Fatal("no captures in the package")
	}
	for _, path := range files {
		src, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		s := Parse(path, src, scene.ReadOptions{})
		scenetest.Hold(t, s)
		for _, p := range s.Problems {
			if p.Kind != scene.Surplus || !strings.Contains(p.Message, "all of them are used") {
				t.Errorf("%s: %s", filepath.Base(path), p.Message)
			}
		}
		names := bytes.Count(bytes.ToLower(src[:s.Channels[0].Block.Start]), []byte("rotation")) +
			bytes.Count(bytes.ToLower(src[:s.Channels[0].Block.Start]), []byte("position"))
		if len(s.Channels) != names || s.Channels[names-1].Curve.Len() != int(s.Last) {
			t.Errorf("%s: %d channels of %d keys, want %d", filepath.Base(path), len(s.Channels), s.Channels[0].Curve.Len(), names)
		}
		if s.Rate != 120 && s.Rate != 100 {
			t.Errorf("%s: rate %v", filepath.Base(path), s.Rate)
		}
	}
}

// seeds adds the broken files and a sound one to a fuzz corpus.
func seeds(f *testing.F) {
	f.Add([]byte(winch))
	f.Add(bake(2, 3))
	for _, src := range scenetest.Broken(f, "../../testdata/broken/bvh/*.txtar") {
		f.Add(src)
	}
}

func FuzzParse(f *testing.F) {
	seeds(f)
	f.Fuzz(func(t *testing.T, src []byte) {
		scenetest.Hold(t, Parse("x.bvh", src, scene.ReadOptions{MaxDepth: 8}))
	})
}

func FuzzReread(f *testing.F) {
	f.Add(bake(2, 5), 300, 302, []byte("12.5"))
	f.Add([]byte(winch), 500, 501, []byte("\n"))
	f.Fuzz(func(t *testing.T, src []byte, start, end int, text []byte) {
		if start < 0 || end < start || end > len(src) {
			return
		}
		old := Parse("x.bvh", src, scene.ReadOptions{})
		e := scene.Edit{Start: start, End: end, New: text}
		if got, ok := Reread(old, e); ok {
			checkReread(t, old, e, got)
		}
	})
}
