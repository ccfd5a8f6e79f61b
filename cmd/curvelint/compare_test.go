package main

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync/atomic"
	"testing"

	"curvelint/cmd/lab/designed"
	"curvelint/cmd/lab/designed/natural"
	"curvelint/cmd/lab/designed/write"
	"curvelint/diagnostics/note"
)

// The README shows what compare says, from the top.
func TestReadmeCompare(t *testing.T) {
	shown := regexp.MustCompile("(?m)^go run \\./cmd/curvelint (compare .*)\n```\n\n```\n((?s:.*?))\n```").FindAllStringSubmatch(readReadme(t), -1)
	if len(shown) != 2 {
		t.Fatalf("README.md shows %d comparisons with their output, want 2", len(shown))
	}
	t.Chdir(repoRoot)
	for _, m := range shown {
		status, out, errs := call(t, "", strings.Fields(m[1])...)
		if status != statusClean || errs != "" || !strings.HasPrefix(out, m[2]) {
			t.Errorf("%s: status %d, %s\n%s\nREADME.md shows\n%s", m[1], status, errs, out, m[2])
		}
	}
}

func TestCompareStatus(t *testing.T) {
	onlyInvented(t, note.Warning)
	other := strings.Replace(winch, "ROOT drum", "ROOT gull", 1)
	shots(t, map[string]string{"a.bvh": winch, "b.bvh": winch, "c.bvh": other, "cut.bvh": cut, "broken.bvh": "HIERARCHY", "new/d.bvh": winch})
	for _, tt := range []struct {
		args   string
		status int
		out    string
	}{
		{"a.bvh b.bvh", statusClean, "notes: 0 fixed, 1 remaining, 0 new"},
		{"a.bvh c.bvh", statusFailed, ""}, // a drum and a gull
		{"--fail-on never a.bvh c.bvh", statusFailed, ""},
		{"a.bvh new/d.bvh", statusClean, "d.bvh against a.bvh"},
		{"a.bvh missing.bvh", statusFailed, ""},
		{"broken.bvh a.bvh", statusFailed, ""},
		{"a.bvh", statusFailed, ""},
		{"--format yaml a.bvh b.bvh", statusFailed, ""},
		{"--frames 9-1 a.bvh b.bvh", statusFailed, ""},
		{"--part [ a.bvh b.bvh", statusFailed, ""},
		{"--fail-on sometimes a.bvh b.bvh", statusFailed, ""},
		{"--fps -1 a.bvh b.bvh", statusFailed, ""},
		{"--config missing.toml a.bvh b.bvh", statusFailed, ""},
		{"--output nowhere/x a.bvh b.bvh", statusFailed, ""},
	} {
		status, out, errs := call(t, "", append([]string{"compare"}, strings.Fields(tt.args)...)...)
		if status != tt.status || !strings.Contains(out, tt.out) {
			t.Errorf("%s: status %d, want %d\n%s%s", tt.args, status, tt.status, out, errs)
		}
		if status == statusFailed && !strings.HasPrefix(errs, "curvelint: ") {
			t.Errorf("%s: does not say why: %q", tt.args, errs)
		}
	}
}

// Passes that lie in different folders are judged alike: what one folder says of a
// part is no change.
func TestCompareOneConfiguration(t *testing.T) {
	shots(t, map[string]string{"new/d.bvh": winch, "old/d.bvh": winch, "old/curvelint.toml": "[[part]]\nmatch = \"drum\"\nkind = \"mechanical\"\n"})
	for _, args := range [][]string{{"old/d.bvh", "new/d.bvh"}, {"new/d.bvh", "old/d.bvh"}} {
		if status, out, errs := call(t, "", append([]string{"compare"}, args...)...); status != statusClean || !strings.Contains(out, "nothing changed") {
			t.Errorf("%s: status %d\n%s%s", args, status, out, errs)
		}
	}
}

// A pass with new warnings has status 1, as check has.
func TestCompareNewNotes(t *testing.T) {
	a, b := filepath.Join(repoRoot, "testdata/demo/deckhand_polish.bvh"), filepath.Join(repoRoot, "testdata/demo/deckhand_spline.bvh")
	if status, out, errs := call(t, "", "compare", a, b); status != statusNotes || errs != "" || !strings.Contains(out, "7 new") {
		t.Errorf("status %d: %s%s", status, out, errs)
	}
	if status, _, _ := call(t, "", "compare", "--fail-on", "never", a, b); status != statusClean {
		t.Errorf("never: status %d", status)
	}
	status, out, errs := call(t, "", "check", "--before", a, b)
	if status != statusNotes || strings.Count(out, " warning: ") != 6 || !strings.Contains(errs, "7 new, 0 remaining, 0 fixed") {
		t.Errorf("check --before: status %d\n%s%s", status, out, errs)
	}
	if status, out, errs := call(t, "", "check", "--before", b, b); status != statusClean || out != "" || !strings.Contains(errs, "0 new, 7 remaining, 0 fixed") {
		t.Errorf("check --before itself: status %d\n%s%s", status, out, errs)
	}
	if status, _, errs := call(t, "", "check", "--before", "missing.bvh", b); status != statusFailed || !strings.Contains(errs, "missing.bvh does not exist") {
		t.Errorf("check --before missing: status %d, %s", status, errs)
	}
	if status, _, errs := call(t, "", "check", "--before", a, b, a); status != statusFailed || !strings.Contains(errs, "--before") {
		t.Errorf("check --before with two files: status %d, %s", status, errs)
	}
}

func TestCompareFormats(t *testing.T) {
	a, b := filepath.Join(repoRoot, "testdata/demo/deckhand_polish.usda"), filepath.Join(repoRoot, "testdata/demo/deckhand_retimed.usda")
	file := filepath.Join(t.TempDir(), "changes.json")
	if status, out, errs := call(t, "", "compare", "--format", "json", "-o", file, a, b); status != statusClean || out+errs != "" {
		t.Fatalf("status %d: %s%s", status, out, errs)
	}
	raw, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var form struct {
		Version    int
		SameTiming bool
		Beats      []struct{ Arrival float64 }
		Parts      []any
	}
	if err := json.Unmarshal(raw, &form); err != nil || form.Version != 1 || form.SameTiming || len(form.Beats) != 1 || form.Parts == nil || len(form.Parts) != 0 {
		t.Errorf("%v: %s", err, raw)
	}
	if status, out, _ := call(t, "", "compare", "--format", "html", a, b); status != statusClean || !strings.Contains(out, "arrives 2 frames sooner") {
		t.Errorf("status %d: %s", status, out)
	}
	if _, out, _ := call(t, "", "compare", "--part", "*jaw*", "--frames", "1001-1010", a, b); !strings.Contains(out, "nothing changed") {
		t.Errorf("the jaw has changed: %s", out)
	}
}

// Another performance of the figure is no earlier pass: one line says so, and
// nothing is compared.
func TestCompareUnrelated(t *testing.T) {
	files := map[string]string{}
	for name, seed := range map[string]designed.Seed{"look.bvh": 5, "wave.bvh": 6} {
		var b bytes.Buffer
		if err := write.BVH(&b, natural.Shot(natural.Acting, natural.Options{Seed: seed, Seconds: 5}).Take(24)); err != nil {
			t.Fatal(err)
		}
		files[name] = b.String()
	}
	shots(t, files)
	for _, format := range []string{"text", "json", "html"} {
		status, out, errs := call(t, "", "compare", "--format", format, "look.bvh", "wave.bvh")
		if status != statusFailed || out != "" || strings.Count(errs, "\n") != 1 ||
			!strings.HasPrefix(errs, "curvelint: look.bvh and wave.bvh do not belong together: expected two passes of one shot, found") || !strings.Contains(errs, "; give an earlier pass") {
			t.Errorf("%s: status %d\n%s%s", format, status, out, errs)
		}
	}
}

// asking is a context that ends when it has been asked a number of times.
type asking struct {
	context.Context
	left atomic.Int64
}

func (a *asking) Err() error {
	if a.left.Add(-1) < 0 {
		return context.Canceled
	}
	return a.Context.Err()
}

// A comparison under way can be interrupted, and then writes nothing.
func TestCompareInterrupted(t *testing.T) {
	t.Chdir(filepath.Join(repoRoot, "testdata", "demo"))
	compare := func(times int64) (status int, out, errs string, asked int64) {
		var o, e bytes.Buffer
		ctx := &asking{Context: t.Context()}
		ctx.left.Store(times)
		status = run(ctx, []string{"compare", "deckhand_spline.usda", "deckhand_polish.usda"}, streams{nil, &o, &e})
		return status, o.String(), e.String(), times - ctx.left.Load()
	}
	status, out, _, asked := compare(1 << 40)
	if status != statusClean || out == "" {
		t.Fatalf("status %d, %q", status, out)
	}
	for _, share := range []int64{20, 50, 90, 98} { // of a hundred: while it judges, and while it compares
		if status, out, errs, _ := compare(asked * share / 100); status != statusFailed || out != "" || !strings.Contains(errs, "interrupted") {
			t.Errorf("interrupted at %d %%: status %d, %q, %q", share, status, out, errs)
		}
	}
}
