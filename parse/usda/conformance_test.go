package usda

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"golang.org/x/tools/txtar"

	"curvelint/parse/scene"
)

var update = flag.Bool("update", false, "write the problems of malformed layers into the conformance files")

// unmarked turns the marks of the conformance files into the characters they
// stand for.
func unmarked(text []byte) []byte {
	s := strings.NewReplacer("<BOM>", "\ufeff", "<CR>", "\r", "<VT>", "\v", "<NBSP>", "\u00a0").Replace(string(text))
	if at := strings.Index(s, "<END>"); at >= 0 {
		s = s[:at]
	}
	return []byte(s)
}

// wrong lists the problems of a layer's text with their places: "2:5: message".
// What is well formed but not supported is no fault of the text.
func wrong(text []byte) string {
	sc := Parse("conformance.usda", text, scene.ReadOptions{})
	var b strings.Builder
	for _, p := range sc.Problems {
		if p.Kind != scene.Syntax && p.Kind != scene.PartialExport {
			continue
		}
		at := min(int(p.Span.Start), len(text))
		line := 1 + bytes.Count(text[:at], []byte("\n"))
		column := at - bytes.LastIndexByte(text[:at], '\n')
		fmt.Fprintf(&b, "%d:%d: %s\n", line, column, p.Message)
	}
	return b.String()
}

// conformanceLayers returns all layers of the corpus.
func conformanceLayers(t testing.TB) [][]byte {
	t.Helper()
	files, err := filepath.Glob("../../testdata/conformance/usda/*.txtar")
	if err != nil || len(files) == 0 {
		t.Fatalf("no conformance files: %v", err)
	}
	var layers [][]byte
	for _, f := range files {
		a, err := txtar.ParseFile(f)
		if err != nil {
			t.Fatal(err)
		}
		for _, member := range a.Files {
			if !strings.HasPrefix(member.Name, "want: ") {
				layers = append(layers, unmarked(member.Data))
			}
		}
	}
	return layers
}

// TestConformance reads a corpus written from the grammar of OpenUSD's text
// layers (AOUSD Core Specification): what is well formed gives no problem, what
// is malformed gives its problem at its place.
func TestConformance(t *testing.T) {
	files, err := filepath.Glob("../../testdata/conformance/usda/*.txtar")
	if err != nil || len(files) == 0 {
		t.Fatalf("no conformance files: %v", err)
	}
	good, bad := 0, 0
	for _, f := range files {
		a, err := txtar.ParseFile(f)
		if err != nil {
			t.Fatal(err)
		}
		for i := range a.Files {
			kind, name, _ := strings.Cut(a.Files[i].Name, ": ")
			text := unmarked(a.Files[i].Data)
			switch kind {
			case "ok":
				good++
				if got := wrong(text); got != "" {
					t.Errorf("%s: %s is well formed, but: %s\n%s", filepath.Base(f), name, got, text)
				}
			case "bad":
				bad++
				if i+1 >= len(a.Files) || a.Files[i+1].Name != "want: "+name {
					t.Fatalf("%s: %s has no want", f, name)
				}
				got := wrong(text)
				if got == "" {
					t.Errorf("%s: %s is malformed, but nothing is said\n%s", filepath.Base(f), name, text)
				}
				if *update {
					a.Files[i+1].Data = []byte(got)
				} else if want := string(a.Files[i+1].Data); got != want {
					t.Errorf("%s: %s: got\n%swant\n%s", filepath.Base(f), name, got, want)
				}
			}
		}
		if *update {
			if err := os.WriteFile(f, txtar.Format(a), 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	if good < 120 || bad < 80 {
		t.Errorf("%d well formed and %d malformed layers, want 120 and 80 at least", good, bad)
	}
}
