package parse

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// ship makes a folder with a shot inside and a secret beside it.
func ship(t *testing.T) (root string) {
	t.Helper()
	dir := t.TempDir()
	root = filepath.Join(dir, "shot")
	for path, content := range map[string]string{
		"secret.usda":         "secret",
		"shot/main.usda":      "main",
		"shot/sub/layer.usda": "layer",
		"shots/other.usda":    "other",
	} {
		path = filepath.Join(dir, path)
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(content), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for link, target := range map[string]string{
		"shot/out.usda":    "../secret.usda",
		"shot/up":          "..",
		"shot/in.usda":     "sub/layer.usda",
		"shot/abs.usda":    filepath.Join(root, "sub", "layer.usda"),
		"shot/loop.usda":   "loop.usda",
		"shot/absout.usda": filepath.Join(dir, "secret.usda"),
	} {
		if err := os.Symlink(target, filepath.Join(dir, link)); err != nil {
			t.Skip("this system makes no symbolic links:", err)
		}
	}
	return root
}

func TestOpenWithin(t *testing.T) {
	root := ship(t)
	main := filepath.Join(root, "main.usda")
	layer := filepath.Join(root, "sub", "layer.usda")
	tests := []struct {
		from, name string
		want       string // content
		fail       string // else part of the error
	}{
		{main, "sub/layer.usda", "layer", ""},
		{main, "./sub/../sub/layer.usda", "layer", ""},
		{main, `sub\layer.usda`, "layer", ""},
		{layer, "../main.usda", "main", ""},
		{main, layer, "layer", ""},
		{main, "in.usda", "layer", ""},
		{main, "abs.usda", "layer", ""},
		{main, "up/shot/main.usda", "main", ""},
		{main, "../secret.usda", "", "outside"},
		{main, "../shots/other.usda", "", "outside"},
		{main, "sub/../../secret.usda", "", "outside"},
		{main, `..\secret.usda`, "", "outside"},
		{main, "../nothing.usda", "", "outside"},
		{main, "/etc/hostname", "", "outside"},
		{main, "out.usda", "", "outside"},
		{main, "absout.usda", "", "outside"},
		{main, "up/secret.usda", "", "outside"},
		{main, "loop.usda", "", "loop.usda cannot be read"},
		{main, "missing.usda", "", "does not exist"},
		{main, "sub", "", "no regular file"},
		{main, "", "", "expected the name"},
		{main, "a\x00b", "", "expected the name"},
		{main, "https://example.org/a.usda", "", "https address"},
		{main, "file:///etc/hostname", "", "file address"},
		{main, "data:text/plain,x", "", "data address"},
	}
	open := OpenWithin(root)
	for _, tt := range tests {
		path, content, err := open(tt.from, tt.name)
		if tt.fail != "" {
			if err == nil || !strings.Contains(err.Error(), tt.fail) {
				t.Errorf("%q: %q, %v; want an error with %q", tt.name, content, err, tt.fail)
			}
			continue
		}
		if err != nil || string(content) != tt.want {
			t.Errorf("%q: %q, %v; want %q", tt.name, content, err, tt.want)
		}
		if !filepath.IsAbs(path) {
			t.Errorf("%q: path %q is not absolute though from is", tt.name, path)
		}
	}
	if _, _, err := open(main, "missing.usda"); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a missing file gives %v, which is not fs.ErrNotExist", err)
	}
}

func TestOpenWithinRelative(t *testing.T) {
	t.Chdir(ship(t))
	path, content, err := OpenWithin(".")("main.usda", "sub/layer.usda")
	if err != nil || string(content) != "layer" || path != filepath.Join("sub", "layer.usda") {
		t.Errorf("%q %q %v", path, content, err)
	}
	if _, _, err := OpenWithin(".")("main.usda", "../secret.usda"); err == nil {
		t.Error("a file outside the current folder was read")
	}
}
