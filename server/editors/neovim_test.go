package editors_test

import (
	"path/filepath"
	"testing"
)

func TestNeovim(t *testing.T) {
	t.Parallel()
	nvim := need(t, "nvim", "apt-get install neovim")
	_, file := shot(t)
	want := expected(t, file)
	script, err := filepath.Abs("testdata/neovim.lua")
	if err != nil {
		t.Fatal(err)
	}
	got := drive(t, file, nvim, "--headless", "-u", script, "-i", "NONE", file)
	got.check(t, file, want)
}
