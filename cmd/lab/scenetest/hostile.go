package scenetest

import (
	"path/filepath"
	"runtime"
	"testing"

	"golang.org/x/tools/txtar"

	"curvelint/parse/scene"
)

// Hold fails a test when a scene breaks what every scene promises, or when a key
// is not what stands at its place in the text.
func Hold(t testing.TB, s *scene.Scene) {
	t.Helper()
	if err := Check(s); err != nil {
		t.Fatal(err)
	}
	if err := CheckKeys(s); err != nil {
		t.Fatal(err)
	}
}

// Allocated returns the bytes that f allocates in all.
func Allocated(f func()) uint64 {
	var before, behind runtime.MemStats
	runtime.ReadMemStats(&before)
	f()
	runtime.ReadMemStats(&behind)
	return behind.TotalAlloc - before.TotalAlloc
}

// Broken returns the first file of each archive that a pattern matches: texts that
// are broken, to begin fuzzing with. It fails the test when there is none.
func Broken(t testing.TB, pattern string) [][]byte {
	t.Helper()
	archives, err := filepath.Glob(pattern)
	if err != nil || len(archives) == 0 {
		t.Fatal("no broken files to begin with", err)
	}
	var out [][]byte
	for _, path := range archives {
		archive, err := txtar.ParseFile(path)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, archive.Files[0].Data)
	}
	return out
}
