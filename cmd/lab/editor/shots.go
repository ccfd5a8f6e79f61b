package editor

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"curvelint/cmd/lab/designed"
	asfile "curvelint/cmd/lab/designed/write"
)

// Demo returns the path of a shot of the demo, and its text. The test runs in a
// folder of the repository.
func Demo(t testing.TB, name string) (path, text string) {
	t.Helper()
	dir, err := os.Getwd()
	for ; err == nil; dir = filepath.Dir(dir) {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil || dir == filepath.Dir(dir) {
			break
		}
	}
	path = filepath.Join(dir, "testdata", "demo", name)
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return path, string(b)
}

// Write writes a file and returns its path.
func Write(t *testing.T, dir, name, content string) string {
	t.Helper()
	path := filepath.Join(dir, name)
	if err := os.WriteFile(path, []byte(content), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// Ferry returns a folder with the configuration of the demo.
func Ferry(t *testing.T) string {
	t.Helper()
	_, toml := Demo(t, "curvelint.toml")
	dir := t.TempDir()
	Write(t, dir, "curvelint.toml", toml)
	return dir
}

// TwoPasses writes a folder with the earlier and the later pass of the demo, and
// returns the text and URI of the later one.
func TwoPasses(t *testing.T) (dir string, later uri.URI, content string) {
	t.Helper()
	dir = Ferry(t)
	_, spline := Demo(t, "deckhand_spline.usda")
	_, content = Demo(t, "deckhand_polish.usda")
	Write(t, dir, "deckhand_spline.usda", spline)
	return dir, uri.File(Write(t, dir, "deckhand_polish.usda", content)), content
}

// Opened opens a shot of the demo.
func Opened(t *testing.T, name string, tune func(*protocol.InitializeParams)) (*Editor, uri.URI, string) {
	t.Helper()
	path, text := Demo(t, name)
	e := Start(t, tune)
	u := uri.File(path)
	e.Open(u, text)
	return e, u, text
}

// Bake writes a bake, in usda or bvh, of about the given size in bytes.
func Bake(b testing.TB, format string, size int) []byte {
	b.Helper()
	formats := map[string]func(*bytes.Buffer, *designed.Take) error{
		"usda": func(w *bytes.Buffer, t *designed.Take) error { return asfile.USDA(w, t) },
		"bvh":  func(w *bytes.Buffer, t *designed.Take) error { return asfile.BVH(w, t) },
	}
	frames := 100
	for {
		var w bytes.Buffer
		if err := formats[format](&w, designed.Bake(64, frames)); err != nil {
			b.Fatal(err)
		}
		if w.Len() > size*9/10 {
			return w.Bytes()
		}
		frames = max(frames+1, frames*size/w.Len())
	}
}
