package config

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func write(t *testing.T, path, content string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(content), 0o644); err != nil {
		t.Fatal(err)
	}
}

func TestFinder(t *testing.T) {
	dir := t.TempDir()
	write(t, filepath.Join(dir, "show", FileName), "\uFEFFhandles = 4\n")
	write(t, filepath.Join(dir, "show", "shot", FileName), "handles = 8\n")
	f := &Finder{Schema: testSchema}
	for path, want := range map[string]int{
		"show/shot/a.usda":       8,
		"show/shot/sub/a.usda":   8,
		"show/other/sub/b.usda":  4,
		"show/" + "new/deep/c.x": 4,
	} {
		c, err := f.For(filepath.Join(dir, filepath.FromSlash(path)))
		if err != nil || c.Handles != want || len(c.Problems) > 0 {
			t.Errorf("%s: %+v, %v; want handles %d", path, c, err, want)
		}
	}
	one, _ := f.For(filepath.Join(dir, "show", "a.usda"))
	two, _ := f.For(filepath.Join(dir, "show", "b.usda"))
	if one != two {
		t.Error("a configuration was read twice")
	}
	write(t, filepath.Join(dir, "show", FileName), "handles = 5\n")
	f.Forget()
	if c, _ := f.For(filepath.Join(dir, "show", "a.usda")); c.Handles != 5 {
		t.Errorf("handles %d after the file changed, want 5", c.Handles)
	}
	missing := &Finder{Fixed: filepath.Join(dir, "none.toml")}
	if _, err := missing.For("a.usda"); err == nil || !strings.Contains(err.Error(), "does not exist") {
		t.Errorf("a missing configuration gives %v", err)
	}
	folder := &Finder{Fixed: dir}
	if _, err := folder.For("a.usda"); err == nil {
		t.Error("a folder was read as configuration")
	}
}

func TestFindRelative(t *testing.T) {
	dir := t.TempDir()
	write(t, filepath.Join(dir, FileName), "")
	write(t, filepath.Join(dir, "sub", "x"), "")
	t.Chdir(dir)
	if got := Find(filepath.Join("sub", "a.usda")); got != FileName {
		t.Errorf("found %q, want it relative", got)
	}
}

func TestBefore(t *testing.T) {
	src := `
[[pass]]
name = "*_polish.usda"
before = "*_spline.usda"
[[pass]]
name = "*.v*.bvh"
before = "../old/*.bvh"
[[pass]]
name = "same"
before = "same"
`
	c := Parse("curvelint.toml", []byte(src), testSchema)
	if len(c.Problems) > 0 {
		t.Fatal(c.Problems)
	}
	for path, want := range map[string]string{
		"shot/deckhand_polish.usda": "shot/deckhand_spline.usda",
		"_polish.usda":              "_spline.usda",
		"shot/gull.v2.bvh":          "old/gull.bvh",
		"shot/gull.usda":            "",
		"same":                      "",
	} {
		got, ok := c.Before(filepath.FromSlash(path))
		if filepath.ToSlash(got) != want || ok != (want != "") {
			t.Errorf("%s: before it %q, want %q", path, got, want)
		}
	}
}

func TestFrames(t *testing.T) {
	for s, want := range map[string]Frames{
		"40-52": {40, 52}, "1001": {1001, 1001}, " -12 - -4 ": {-12, -4}, "-3-5": {-3, 5}, "12.5-13": {12.5, 13}, "+1-+2": {1, 2},
	} {
		got, err := ParseFrames(s)
		if err != nil || got != want {
			t.Errorf("%q: %v, %v; want %v", s, got, err, want)
		}
		if again, err := ParseFrames(got.String()); err != nil || again != want {
			t.Errorf("%q is written as %q, which reads as %v, %v", s, got.String(), again, err)
		}
	}
	for _, s := range []string{"", "-", "a-b", "1-", "5-3", "1--", "0x10", "1e3", "1-2-3"} {
		if got, err := ParseFrames(s); err == nil {
			t.Errorf("%q reads as %v", s, got)
		}
	}
}
