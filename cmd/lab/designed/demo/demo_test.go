package demo

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
)

const folder = "../../../../testdata/demo"

// TestCommitted holds the committed files against the generator.
func TestCommitted(t *testing.T) {
	files, err := Files()
	if err != nil {
		t.Fatal(err)
	}
	total := 0
	for _, f := range files {
		total += len(f.Text)
		have, err := os.ReadFile(filepath.Join(folder, filepath.FromSlash(f.Path)))
		if err != nil || !bytes.Equal(have, f.Text) {
			t.Errorf("testdata/demo/%s is not what the generator writes; run go generate ./cmd/lab/designed", f.Path)
		}
	}
	if total > 3<<20 {
		t.Errorf("the demo has %d bytes, more than 3 MiB", total)
	}
}

// TestDeterministic makes the files twice.
func TestDeterministic(t *testing.T) {
	a, err := Files()
	if err != nil {
		t.Fatal(err)
	}
	b, err := Files()
	if err != nil {
		t.Fatal(err)
	}
	for i := range a {
		if !bytes.Equal(a[i].Text, b[i].Text) {
			t.Errorf("%s differs from one run to the next", a[i].Path)
		}
	}
}
