package main

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"curvelint/cmd/lab/designed"
	"curvelint/cmd/lab/designed/natural"
	"curvelint/cmd/lab/designed/write"
	"curvelint/diagnostics"
	"curvelint/diagnostics/config"
)

const pageTests = repoRoot + "/diagnostics/page/test"

// browserTools returns a folder with what drives the browser, as the lock file
// says. It is installed once, in the user's cache, and only in CI or when
// CURVELINT_BROWSER=1.
func browserTools(t *testing.T) string {
	t.Helper()
	lock, err := os.ReadFile(pageTests + "/package-lock.json")
	if err != nil {
		t.Fatal(err)
	}
	cache, err := os.UserCacheDir()
	if err != nil {
		t.Skip("there is no folder for caches:", err)
	}
	dir := filepath.Join(cache, "curvelint-page", fmt.Sprintf("%x", sha256.Sum256(lock))[:12])
	if _, err := os.Stat(filepath.Join(dir, "node_modules", "axe-core", "axe.min.js")); err == nil {
		return dir
	}
	if os.Getenv("CI") != "true" && os.Getenv("CURVELINT_BROWSER") == "" {
		t.Skip("what drives the browser is not installed; CURVELINT_BROWSER=1 installs it (npm, some seconds, 10 MB)")
	}
	npm := program(t, "npm", "install Node 20 or newer")
	for _, name := range []string{"package.json", "package-lock.json", ".npmrc"} {
		b, err := os.ReadFile(filepath.Join(pageTests, name))
		if err != nil {
			t.Fatal(err)
		}
		put(t, filepath.Join(dir, name), string(b))
	}
	c := exec.Command(npm, "ci", "--ignore-scripts", "--no-audit", "--no-fund")
	c.Dir = dir
	if out, err := c.CombinedOutput(); err != nil {
		t.Fatalf("npm ci: %v\n%s", err, out)
	}
	return dir
}

// program returns the path of a program, or skips the test and says how to get it.
func program(t *testing.T, name, install string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		t.Skipf("%s is not here: %s", name, install)
	}
	return path
}

// pageSeen is what the browser's script measured.
type pageSeen struct {
	Requests int
	Long     []struct{ Opened, Rate, Shown float64 }
	Error    string
}

// TestPageInBrowser looks at the page in Chromium; diagnostics/page/test says at
// what. CURVELINT_SHOTS names a folder for pictures.
func TestPageInBrowser(t *testing.T) {
	chromium := program(t, "chromium", "apt-get install chromium")
	node := program(t, "node", "install Node 20 or newer")
	tools := browserTools(t)
	script, err := filepath.Abs(pageTests + "/browser.mjs")
	if err != nil {
		t.Fatal(err)
	}
	folder := pageFolder(t)
	address, end := viewing(t, filepath.Join(folder, "shot.usda"))
	result := filepath.Join(t.TempDir(), "result.json")
	ctx, cancel := context.WithTimeout(t.Context(), 4*time.Minute)
	defer cancel()
	c := exec.CommandContext(ctx, node, script)
	c.Env = append(os.Environ(), "CHROMIUM="+chromium, "TOOLS="+tools, "LIVE="+address, "FOLDER="+folder, "RESULT="+result,
		"LONG="+longPage(t), "TWO="+filepath.Join(folder, "two.html"), "FACE="+facePage(t), "SHOTS="+os.Getenv("CURVELINT_SHOTS"),
		"HEAD="+headOf(t, filepath.Join(folder, "spline.usda")),
		fmt.Sprintf(`NOTES={"spline":%d,"polish":%d}`, notesOf(t, folder, "spline.usda"), notesOf(t, folder, "polish.usda")))
	out, err := c.CombinedOutput()
	b, readErr := os.ReadFile(result)
	if readErr != nil {
		t.Fatalf("the browser wrote no result: %v\n%s", err, out)
	}
	var s pageSeen
	if err := json.Unmarshal(b, &s); err != nil {
		t.Fatal(err)
	}
	if s.Error != "" {
		t.Fatalf("%s\n%s", s.Error, out)
	}
	s.check(t)
	if status := end(); status != statusClean {
		t.Errorf("view ended with status %d", status)
	}
}

// check holds the best of the tries against what was promised, since other work
// on the machine can only make a try worse: drawn within a second, at the shot's
// 24 frames a second, nearly every frame shown.
func (s *pageSeen) check(t *testing.T) {
	t.Helper()
	opened, off, shown := 1e9, 1e9, 0.0
	for _, l := range s.Long {
		opened, off, shown = min(opened, l.Opened), min(off, max(l.Rate-24, 24-l.Rate)), max(shown, l.Shown)
	}
	t.Logf("drawn after %.0f ms, %.2f frames a second off, %.0f %% of frames shown, %d requests", opened, off, 100*shown, s.Requests)
	if opened >= 1000 || off > 0.5 || shown < 0.9 {
		t.Errorf("the long shot: %+v", s.Long)
	}
}

// notesOf counts the notes that check gives on a shot.
func notesOf(t *testing.T, folder, name string) int {
	t.Helper()
	_, out, errs := call(t, "", "check", "--format", "json", filepath.Join(folder, name))
	var form struct{ Files []struct{ Notes []any } }
	if err := json.Unmarshal([]byte(out), &form); err != nil || len(form.Files) != 1 {
		t.Fatal(err, out, errs)
	}
	return len(form.Files[0].Notes)
}

// headOf is where the camera sees the head's point in frame 1036.
func headOf(t *testing.T, file string) string {
	t.Helper()
	s, err := loadShot(t.Context(), &config.Finder{Schema: diagnostics.Schema()}, file)
	if err != nil {
		t.Fatal(err)
	}
	study := s.result.Study
	fig := study.FigureOf(study.Scene.Find("/Tug/hips/spine/chest/neck/head"))
	for i := range fig.Points {
		if fig.Points[i].Name != "head" {
			continue
		}
		view := study.View()
		eye := view.At(1036)
		x, y, _, ok := eye.Project(fig.PointTrack(i).WorldPoint(study.Index(1036)))
		if !ok {
			break
		}
		return fmt.Sprintf(`{"x":%g,"y":%g,"aspect":%g}`, x, y, view.Aspect)
	}
	t.Fatal("the camera does not see the head")
	return ""
}

// pageFolder is a folder with shots of the demo, and a page of two of them.
func pageFolder(t *testing.T) string {
	t.Helper()
	folder := t.TempDir()
	for to, from := range map[string]string{"shot.usda": "deckhand_spline.usda", "spline.usda": "deckhand_spline.usda",
		"polish.usda": "deckhand_polish.usda", "curvelint.toml": "curvelint.toml"} {
		b, err := os.ReadFile(filepath.Join(repoRoot, "testdata", "demo", from))
		if err != nil {
			t.Fatal(err)
		}
		put(t, filepath.Join(folder, to), string(b))
	}
	two := filepath.Join(folder, "two.html")
	status, _, errs := call(t, "", "check", "--format", "html", "--output", two, filepath.Join(folder, "polish.usda"), filepath.Join(folder, "spline.usda"))
	if status != statusNotes {
		t.Fatalf("status %d: %s", status, errs)
	}
	return folder
}

// longPage is the page of a shot of 64 joints and 1,000 frames.
func longPage(t *testing.T) string {
	t.Helper()
	var b bytes.Buffer
	if err := write.BVH(&b, designed.Bake(64, 1000)); err != nil {
		t.Fatal(err)
	}
	shot := filepath.Join(t.TempDir(), "bake.bvh")
	put(t, shot, b.String())
	name := filepath.Join(filepath.Dir(shot), "bake.html")
	if status, _, errs := call(t, "", "view", "--output", name, shot); status != statusClean {
		t.Fatalf("status %d: %s", status, errs)
	}
	return name
}

// facePage is the page of a face of shape weights, held against an earlier pass.
func facePage(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	for name, rate := range map[string]float64{"talk.usda": 24, "before.usda": 30} {
		var b bytes.Buffer
		if err := write.USDASkeleton(&b, natural.Shot(natural.Shapes, natural.Options{Seed: 5, Seconds: 6}).Take(rate)); err != nil {
			t.Fatal(err)
		}
		put(t, filepath.Join(dir, name), b.String())
	}
	page := filepath.Join(dir, "talk.html")
	if status, _, errs := call(t, "", "view", "--output", page, filepath.Join(dir, "talk.usda"), filepath.Join(dir, "before.usda")); status != statusClean {
		t.Fatalf("status %d: %s", status, errs)
	}
	return page
}

// viewing runs view until it is ended, and returns the address that it prints.
func viewing(t *testing.T, args ...string) (address string, end func() int) {
	t.Helper()
	ctx, cancel := context.WithCancel(t.Context())
	var out, errs buffer
	done := make(chan int, 1)
	go func() { done <- run(ctx, append([]string{"view"}, args...), streams{nil, &out, &errs}) }()
	for start := time.Now(); !strings.HasSuffix(out.String(), "/\n"); time.Sleep(5 * time.Millisecond) {
		if time.Since(start) > 20*time.Second {
			cancel()
			t.Fatalf("no address: %q %q", out.String(), errs.String())
		}
	}
	return strings.TrimSpace(out.String()), func() int {
		cancel()
		select {
		case status := <-done:
			return status
		case <-time.After(10 * time.Second):
			t.Fatal("view does not end")
			return 0
		}
	}
}
