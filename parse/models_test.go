package parse

import (
	"bytes"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"curvelint/cmd/lab/scenetest"
	"curvelint/parse/scene"
)

var update = flag.Bool("update", false, "write golden files again")

// TestFilesOfOtherWriters reads every file of our formats in Debian's package
// assimp-testmodels, by many writers, some broken on purpose: each
// gives a sound scene, and what is wrong with it is said at its place. The
// golden file lists what was found in all of them.
func TestFilesOfOtherWriters(t *testing.T) {
	models := scenetest.Models(t)
	var lines []string
	err := filepath.WalkDir(models, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !slices.Contains(Extensions(), strings.ToLower(filepath.Ext(path))) {
			return err
		}
		raw, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		if program, _ := filepath.Match("C*4D.dae", filepath.Base(path)); program {
			return nil // named after a program, whose name has no place in the list
		}
		s := Parse(path, raw, scene.ReadOptions{Open: OpenWithin(filepath.Dir(path))})
		if err := scenetest.Check(s); err != nil {
			t.Errorf("%s: %v", path, err)
		}
		rel, _ := filepath.Rel(models, path)
		lines = append(lines, describe(filepath.ToSlash(rel), s))
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	slices.Sort(lines)
	got := strings.Join(lines, "")
	const golden = "../testdata/reference/models.golden"
	if *update {
		if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("%s is not what the files give now; run go test ./parse -run OtherWriters -update and look at the difference:\n%s", golden, firstDifference(got, string(want)))
	}
}

// describe writes what a file gave: one line, and one for each of its first
// problems with its place.
func describe(name string, s *scene.Scene) string {
	var b strings.Builder
	frames := "still"
	if s.Last >= s.First {
		frames = fmt.Sprintf("frames %g-%g at %g", s.First, s.Last, s.Rate)
	}
	figures := 0
	for i := range s.Parts {
		if s.Parts[i].Figure {
			figures++
		}
	}
	fmt.Fprintf(&b, "%s: %s, %d parts, %d channels, %d declared figures, %s\n", name, s.Format, len(s.Parts), len(s.Channels), figures, frames)
	for i, p := range s.Problems {
		if i == 4 {
			fmt.Fprintf(&b, "    and %d more\n", len(s.Problems)-i)
			break
		}
		text := s.Files[p.Span.File].Text
		at := min(int(p.Span.Start), len(text))
		fmt.Fprintf(&b, "    %d:%d: %s: %s\n", 1+bytes.Count(text[:at], []byte("\n")), at-bytes.LastIndexByte(text[:at], '\n'), p.Kind, p.Message)
	}
	return b.String()
}

func firstDifference(got, want string) string {
	g, w := strings.Split(got, "\n"), strings.Split(want, "\n")
	for i := range min(len(g), len(w)) {
		if g[i] != w[i] {
			return "got  " + g[i] + "\nwant " + w[i]
		}
	}
	return fmt.Sprintf("%d lines, want %d", len(g), len(w))
}
