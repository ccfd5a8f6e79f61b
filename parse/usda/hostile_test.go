package usda

import (
	"os"
	"strings"
	"testing"

	"curvelint/parse/scene"
	"curvelint/parse/scene/scenetest"
)

// small is a small file that is read whole.
const small = "#usda 1.0\n(\n    startTimeCode = 1\n)\ndef Xform \"Tug\" (doc = \"x\") {\n    double3 xformOp:translate.timeSamples = { 1: (1, 2, 3), 2: None }\n    uniform token[] xformOpOrder = [\"xformOp:translate\"]\n}\n"

// TestDeepNesting: ten thousand open blocks are a problem, not a crash.
func TestDeepNesting(t *testing.T) {
	for _, piece := range []string{"def \"a\" {\n", "(", "[", "customData = { dictionary d = {"} {
		src := "#usda 1.0\n" + strings.Repeat(piece, 10_000)
		s := Parse("deep.usda", []byte(src), scene.ReadOptions{})
		if err := scenetest.Check(s); err != nil {
			t.Fatal(err)
		}
		if len(s.Problems) == 0 {
			t.Errorf("nothing is said of 10,000 times %q", piece)
		}
	}
}

// TestCutShort: a file that ends anywhere is read as far as it goes.
func TestCutShort(t *testing.T) {
	src, err := os.ReadFile("../../testdata/demo/deckhand_polish.usda")
	if err != nil {
		t.Fatal(err)
	}
	for i := range 200 {
		cut := src[:len(src)*i/200]
		s := Parse("cut.usda", cut, scene.ReadOptions{})
		if err := scenetest.Check(s); err != nil {
			t.Fatalf("after %d of %d bytes: %v", len(cut), len(src), err)
		}
		if len(s.Problems) == 0 {
			t.Fatalf("after %d of %d bytes: nothing is said", len(cut), len(src))
		}
	}
}

func FuzzParse(f *testing.F) {
	f.Add([]byte(small))
	f.Add([]byte(small[:len(small)/2]))
	f.Fuzz(func(t *testing.T, src []byte) {
		if err := scenetest.Check(Parse("fuzz.usda", src, scene.ReadOptions{})); err != nil {
			t.Fatal(err)
		}
	})
}
