package gltf

import (
	"os"
	"runtime"
	"testing"

	"curvelint/parse/scene"
	"curvelint/parse/scene/scenetest"
)

// lying is a small file that claims much and refers to itself.
const lying = "{\"asset\":{\"version\":\"2.0\"},\"nodes\":[{\"children\":[0]}],\"buffers\":[{\"byteLength\":4294967295,\"uri\":\"data:;base64,AAAA\"}],\"bufferViews\":[{\"buffer\":0,\"byteLength\":9}],\"accessors\":[{\"bufferView\":0,\"componentType\":5126,\"count\":1000000000,\"type\":\"VEC3\"}],\"animations\":[{\"channels\":[{\"sampler\":0,\"target\":{\"node\":0,\"path\":\"translation\"}}],\"samplers\":[{\"input\":0,\"output\":0}]}]}"

// TestLyingClaims: what a file merely claims costs no memory and no time.
func TestLyingClaims(t *testing.T) {
	var before, after runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	s := Parse("lying.gltf", []byte(lying), scene.ReadOptions{})
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
	src, err := os.ReadFile("../../testdata/demo/formats/deckhand_polish.gltf")
	if err != nil {
		t.Fatal(err)
	}
	for i := range 200 {
		cut := src[:len(src)*i/200]
		s := Parse("cut.gltf", cut, scene.ReadOptions{})
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
		if err := scenetest.Check(Parse("fuzz.gltf", src, scene.ReadOptions{})); err != nil {
			t.Fatal(err)
		}
	})
}
