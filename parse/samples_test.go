package parse

import (
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"curvelint/cmd/lab/scenetest"
	"curvelint/parse/scene"
)

// samples calls f for every scene file of testdata/demo.
func samples(t *testing.T, f func(t *testing.T, path string, raw []byte)) {
	const root = "../testdata/demo"
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !slices.Contains(Extensions(), filepath.Ext(path)) {
			return err
		}
		raw, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		name, _ := filepath.Rel(root, path)
		t.Run(name, func(t *testing.T) { f(t, path, raw) })
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// TestSamples: the demo shots are read without a problem, and keep what every
// scene promises.
func TestSamples(t *testing.T) {
	samples(t, func(t *testing.T, path string, raw []byte) {
		s := Parse(path, raw, scene.ReadOptions{Open: OpenWithin("../testdata/demo")})
		if err := scenetest.Check(s); err != nil {
			t.Fatal(err)
		}
		for _, p := range s.Problems {
			t.Errorf("%s: %s", p.Kind, p.Message)
		}
		if len(s.Channels) == 0 || s.Last <= s.First {
			t.Errorf("%d channels, frames %v to %v", len(s.Channels), s.First, s.Last)
		}
	})
}

// TestTruncated cuts each demo shot at 200 places: whatever is left makes a
// sound scene.
func TestTruncated(t *testing.T) {
	places := 200
	if testing.Short() {
		places = 20
	}
	samples(t, func(t *testing.T, path string, raw []byte) {
		t.Parallel()
		for i := range places {
			n := len(raw) * i / places
			s := Parse(path, raw[:n:n], scene.ReadOptions{Open: OpenWithin("../testdata/demo")})
			if err := scenetest.Check(s); err != nil {
				t.Fatalf("cut at %d of %d: %v", n, len(raw), err)
			}
		}
	})
}
