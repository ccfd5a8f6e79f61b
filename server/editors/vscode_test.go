package editors_test

import (
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

// browserSeen is what the browser's script saw.
type browserSeen struct {
	Problems []string `json:"problems"`
	Status   string   `json:"status"`
	Hints    []string `json:"hints"`
	Hover    string   `json:"hover"`
	Pictures int      `json:"pictures"`
	Lens     string   `json:"lens"`
	Actions  []string `json:"actions"`
	After    []string `json:"after"`
	Chart    int      `json:"chart"`   // pictures in the preview of a chart
	Since    string   `json:"since"`   // the lens over the later pass
	Changed  []string `json:"changed"` // the lines of the comparison
	Saved    string   `json:"saved"`
	Error    string   `json:"error"`
}

// tools returns a folder with VS Code's server for browsers and what drives
// it, as the lock file says. Installing takes some minutes and 800 MB, so it
// is done once, in the user's cache, and only in CI or when CURVELINT_VSCODE=1.
func tools(t *testing.T) string {
	t.Helper()
	lock, err := os.ReadFile("vscode/test/package-lock.json")
	if err != nil {
		t.Fatal(err)
	}
	cache, err := os.UserCacheDir()
	if err != nil {
		t.Skip("there is no folder for caches:", err)
	}
	dir := filepath.Join(cache, "curvelint-vscode", fmt.Sprintf("%x", sha256.Sum256(lock))[:12])
	entry := filepath.Join(dir, "node_modules/code-server/out/node/entry.js")
	if _, err := os.Stat(entry); err == nil {
		return dir
	}
	if os.Getenv("CI") != "true" && os.Getenv("CURVELINT_VSCODE") == "" {
		t.Skip("VS Code for browsers is not installed; CURVELINT_VSCODE=1 installs it (npm, libkrb5-dev, some minutes, 800 MB)")
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	copyFiles(t, "vscode/test", dir, "package.json", "package-lock.json", ".npmrc")
	// Its install script wants the Node of the lock file.
	npm(t, dir, nil, "ci", "--ignore-scripts", "--no-audit", "--no-fund")
	npm(t, dir, nil, "rebuild", "node")
	npm(t, dir, []string{"PATH=" + filepath.Join(dir, "node_modules/node/bin") + string(os.PathListSeparator) + os.Getenv("PATH")},
		"rebuild", "--foreground-scripts")
	return dir
}

func copyFiles(t *testing.T, from, to string, names ...string) {
	t.Helper()
	for _, name := range names {
		b, err := os.ReadFile(filepath.Join(from, name))
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(to, name), b, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

func npm(t *testing.T, dir string, env []string, args ...string) {
	t.Helper()
	c := exec.Command(need(t, "npm", "install Node 20 or newer"), args...)
	c.Dir, c.Env = dir, append(os.Environ(), env...)
	if out, err := c.CombinedOutput(); err != nil {
		t.Fatalf("npm %s: %v\n%s", strings.Join(args, " "), err, tail(out))
	}
}

func tail(b []byte) string { return string(b[max(0, len(b)-3000):]) }

// vsix packages the extension with its one command, in a copy.
func vsix(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	for _, name := range []string{"src", "syntaxes"} {
		if err := os.CopyFS(filepath.Join(dir, name), os.DirFS(filepath.Join("vscode", name))); err != nil {
			t.Fatal(err)
		}
	}
	copyFiles(t, "vscode", dir, "package.json", "package-lock.json", ".npmrc", ".vscodeignore", "README.md", "language.json")
	npm(t, dir, nil, "run", "package")
	return filepath.Join(dir, "dist", "curvelint.vsix")
}

// TestVSCode installs the packaged extension into a real VS Code in a browser,
// opens a demo shot there, eases a run, and compares the next pass with it.
// CURVELINT_SHOTS names a folder for pictures.
func TestVSCode(t *testing.T) {
	need(t, "chromium", "apt-get install chromium")
	node := need(t, "node", "install Node 20 or newer")
	folder := tools(t)
	_, file := shot(t)
	want := expected(t, file)
	result := filepath.Join(t.TempDir(), "result.json")
	c := exec.Command(node, "vscode/test/browser.mjs")
	c.Env = append(os.Environ(), "SHOT="+file, "VSIX="+vsix(t), "CURVELINT="+curvelint(t), "TOOLS="+folder,
		"RESULT="+result, "SHOTS="+os.Getenv("CURVELINT_SHOTS"))
	stop := time.AfterFunc(8*time.Minute, func() { c.Process.Kill() })
	defer stop.Stop()
	out, err := c.CombinedOutput()
	b, readErr := os.ReadFile(result)
	if readErr != nil {
		t.Fatalf("the browser wrote no result: %v\n%s", err, tail(out))
	}
	var s browserSeen
	if err := json.Unmarshal(b, &s); err != nil {
		t.Fatal(err)
	}
	if s.Error != "" {
		t.Fatalf("%s\n%s", s.Error, tail(out))
	}
	s.check(t, want, file)
}

func (s *browserSeen) check(t *testing.T, want []seenNote, file string) {
	t.Helper()
	// The list draws only the rows in sight: the first notes by their lines.
	slices.SortFunc(want, func(a, b seenNote) int { return a.Line - b.Line })
	for _, n := range want[:min(3, len(want))] {
		if !holds(s.Problems, n.Message) {
			t.Errorf("the list of problems lacks %q", n.Message)
		}
	}
	if !strings.Contains(s.Status, fmt.Sprintf("%d notes", len(want))) {
		t.Errorf("the status bar says %q of %d notes", s.Status, len(want))
	}
	if !holds(s.Problems, "head turns evenly") || holds(s.After, "head turns evenly") {
		t.Errorf("problems before %q, after the fix %q", s.Problems, s.After)
	}
	if len(s.Hints) < 4 || !strings.Contains(s.Lens, "biggest move") {
		t.Errorf("hints %q, lens %q", s.Hints, s.Lens)
	}
	if !strings.Contains(s.Hover, "frame 1036") || !strings.Contains(s.Hover, "leaves over") || s.Pictures != 1 {
		t.Errorf("hover with %d pictures: %q", s.Pictures, s.Hover)
	}
	if s.Chart != 1 || !strings.Contains(s.Since, "since deckhand_spline.usda") || !holds(s.Changed, "notes: ") {
		t.Errorf("%d charts; lens %q, comparison %q", s.Chart, s.Since, s.Changed)
	}
	if !holds(s.Actions, "Ease this run") || !holds(s.Actions, "Allow in curvelint.toml") {
		t.Errorf("actions %q", s.Actions)
	}
	if slices.ContainsFunc(expected(t, file), func(n seenNote) bool { return n.Code == "even-spacing" }) {
		t.Error("the command line still finds the run in the saved file")
	}
}

func holds(list []string, part string) bool {
	return slices.ContainsFunc(list, func(s string) bool { return strings.Contains(s, part) })
}
