package collada

import (
	"os"
	"runtime"
	"testing"

	"curvelint/parse/scene"
	"curvelint/parse/scene/scenetest"
)

// lying is a small file that claims much and refers to itself.
const lying = "<COLLADA version=\"1.4.1\"><library_visual_scenes><visual_scene id=\"s\"><node id=\"a\"><translate sid=\"t\">1 2 3</translate><instance_node url=\"#a\"/></node></visual_scene></library_visual_scenes><library_animations><animation><source id=\"i\"><float_array id=\"x\" count=\"4294967295\">0 1</float_array></source></animation></library_animations></COLLADA>"

// TestLyingClaims: what a file merely claims costs no memory and no time.
func TestLyingClaims(t *testing.T) {
	var before, after runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	s := Parse("lying.dae", []byte(lying), scene.ReadOptions{})
	runtime.ReadMemStats(&after)
	if err := scenetest.Check(s); err != nil {
		t.Fatal(err)
	}
	if grown := after.TotalAlloc - before.TotalAlloc; grown > 1<<20 {
		t.Errorf("%d bytes allocated for a file of %d", grown, len(lying))
	}
}

// TestCutShort: a file that ends anywhere is read as far as it goes.
func TestCutShort(t *testing.T) {
	src, err := os.ReadFile("../../testdata/demo/formats/deckhand_polish.dae")
	if err != nil {
		t.Fatal(err)
	}
	for i := range 200 {
		cut := src[:len(src)*i/200]
		s := Parse("cut.dae", cut, scene.ReadOptions{})
		if err := scenetest.Check(s); err != nil {
			t.Fatalf("after %d of %d bytes: %v", len(cut), len(src), err)
		}
		if len(s.Problems) == 0 {
			t.Fatalf("after %d of %d bytes: nothing is said", len(cut), len(src))
		}
	}
}

func FuzzParse(f *testing.F) {
	f.Add([]byte(lying))
	f.Add([]byte(lying[:len(lying)/2]))
	f.Fuzz(func(t *testing.T, src []byte) {
		if err := scenetest.Check(Parse("fuzz.dae", src, scene.ReadOptions{})); err != nil {
			t.Fatal(err)
		}
	})
}
