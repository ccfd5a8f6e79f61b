package editors_test

import (
	"path/filepath"
	"testing"
)

func TestEmacs(t *testing.T) {
	t.Parallel()
	emacs := need(t, "emacs", "apt-get install emacs-nox elpa-eglot")
	_, file := shot(t)
	want := expected(t, file)
	script, err := filepath.Abs("testdata/emacs.el")
	if err != nil {
		t.Fatal(err)
	}
	got := drive(t, file, emacs, "--batch", "-l", script)
	got.check(t, file, want)
}
