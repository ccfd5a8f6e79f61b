package main

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"curvelint/cmd/lab/cases"
)

// ordered runs the command on one case and returns the draft and what was told.
func ordered(t *testing.T, in string, args ...string) (raw, told string, err error) {
	t.Helper()
	var o order
	f := flag.NewFlagSet("draft", flag.ContinueOnError)
	o.flags(f)
	if err := f.Parse(args); err != nil {
		t.Fatal(err)
	}
	var out, says bytes.Buffer
	err = o.draft(strings.NewReader(in), &out, &says)
	return out.String(), says.String(), err
}

// A draft says what was planted, and is a case once its marks are taken away.
func TestOrder(t *testing.T) {
	const sheet = "rate 24; last 30; figure weights Mask; jaw.w rest 0.3; jaw.w 14 jump 0.3"
	for _, tt := range []struct {
		in, told string
		wants    int
		args     []string
	}{
		{"", "Planted: a one-frame jump, at R_upperarm, frames 25-25, 30 fps, BVH.", 1, []string{"-seed", "3", "-format", "bvh", "-rate", "30", "-around", "0.8"}},
		{"", "properly animated, 24 fps, glTF.", 0, []string{"-seed", "3", "-near", "-format", "gltf", "-rate", "24"}},
		{"", "Natural motion (nod) with nothing wrong in it, 25 fps, BVH.\nThe file has frames 1-51.", 0, []string{"-natural", "nod", "-rate", "25", "-around", "1", "-format", "bvh"}},
		{sheet, "The file has frames 1-30.", 1, []string{"-sheet", "-", "-format", "csv"}},
		{sheet, "The file has frames 0-29.", 1, []string{"-sheet", "-", "-format", "gltf"}},
	} {
		raw, told, err := ordered(t, tt.in, append([]string{"-check", "pop"}, tt.args...)...)
		if err != nil {
			t.Errorf("%v: %v", tt.args, err)
			continue
		}
		if !strings.Contains(told, tt.told) {
			t.Errorf("%v: told %s", tt.args, told)
		}
		c, err := cases.Read("pop", "flaw-x", []byte(strings.ReplaceAll("\n"+raw, "\n? ", "\n")[1:]))
		if err != nil {
			t.Errorf("%v: %v", tt.args, err)
			continue
		}
		if len(c.Wants) != tt.wants {
			t.Errorf("%v: wants %v", tt.args, c.Wants)
		}
	}
}

func TestOrderRefuses(t *testing.T) {
	there := filepath.Join(t.TempDir(), "flaw-x.txtar")
	if err := os.WriteFile(there, []byte("a case"), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		say  string
		args []string
	}{
		{"no check is called", []string{"-check", "plop"}},
		{"cannot be planted in bvh", []string{"-check", "angle-flip", "-format", "bvh"}},
		{"no natural motion is called", []string{"-check", "pop", "-natural", "limp"}},
		{"no form is called", []string{"-check", "pop", "-sheet", "-", "-format", "film"}},
		{"exists", []string{"-check", "pop", "-o", there}},
	} {
		if _, _, err := ordered(t, "part gull at 0 0 0", tt.args...); err == nil || !strings.Contains(err.Error(), tt.say) {
			t.Errorf("%v: got %v, want %q", tt.args, err, tt.say)
		}
	}
	if raw, err := os.ReadFile(there); err != nil || string(raw) != "a case" {
		t.Errorf("the case that was there is now %q (%v)", raw, err)
	}
}
