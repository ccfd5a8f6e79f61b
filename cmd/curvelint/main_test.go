package main

import (
	"bytes"
	"context"
	"flag"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"

	"curvelint/diagnostics"
	"curvelint/diagnostics/checks"
	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
)

var update = flag.Bool("update", false, "write the golden files anew")

func TestMain(m *testing.M) {
	diagnostics.PanicOnBugs(true)
	if os.Getenv(servesAsProcess) != "" {
		os.Exit(run(context.Background(), []string{"serve"}, streams{os.Stdin, os.Stdout, os.Stderr}))
	}
	if os.Getenv(runsAsProcess) != "" {
		main()
	}
	os.Exit(m.Run())
}

// winch is a whole invented shot: a drum that turns.
const winch = `HIERARCHY
ROOT drum
{
	OFFSET 0 0 0
	CHANNELS 3 Zrotation Xrotation Yrotation
	End Site
	{
		OFFSET 0 1 0
	}
}
MOTION
Frames: 4
Frame Time: 0.0416667
0 0 0
0 0 10
0 0 20
0 0 30
`

// cut is the same, half written.
var cut = winch[:len(winch)-8]

// buffer is a bytes.Buffer for several goroutines.
type buffer struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (b *buffer) Write(p []byte) (int, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.b.Write(p)
}

func (b *buffer) String() string {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.b.String()
}

// call runs the program in this process.
func call(t *testing.T, stdin string, args ...string) (status int, out, errs string) {
	t.Helper()
	var o, e buffer
	status = run(t.Context(), args, streams{strings.NewReader(stdin), &o, &e})
	return status, o.String(), e.String()
}

// shots makes a folder of files the current one.
func shots(t *testing.T, files map[string]string) {
	t.Helper()
	dir := t.TempDir()
	for name, content := range files {
		put(t, filepath.Join(dir, filepath.FromSlash(name)), content)
	}
	t.Chdir(dir)
}

func put(t *testing.T, path, content string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(content), 0o644); err != nil {
		t.Fatal(err)
	}
}

// onlyInvented makes the list of checks one that finds a turning drum: a note
// of each given severity on frames 1-3 of the first part.
func onlyInvented(t *testing.T, severities ...note.Severity) {
	t.Helper()
	before := checks.All
	t.Cleanup(func() { checks.All = before })
	checks.All = nil
	for i, s := range severities {
		checks.All = append(checks.All, &kit.Check{
			ID: "x-" + s.String(), Severity: s, Group: kit.Noise, Title: "an invented flaw", Doc: "# x",
			Run: func(c *kit.Context) []note.Note {
				sc := c.Study.Scene
				if len(sc.Parts) == 0 || len(sc.Channels) == 0 {
					return nil
				}
				p := &sc.Parts[0]
				return []note.Note{{Part: p.Path, PartID: p.ID, Channel: scene.NoChannel, First: sc.First, Last: sc.First + 2,
					Weight: float64(i + 1), Span: p.Def, Message: "frames: " + p.Name + " turns"}}
			}})
	}
}

func golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(string(want), got); d != "" {
		t.Errorf("%s differs; if that is meant, run go test ./cmd/curvelint -update\n%s", path, d)
	}
}

func TestHelp(t *testing.T) {
	for _, command := range []string{"", "chart", "check", "compare", "explain", "figures", "version", "view"} {
		args := []string{"--help"}
		name := "help.txt"
		if command != "" {
			args = []string{command, "--help"}
			name = "help_" + command + ".txt"
		}
		status, out, errs := call(t, "", args...)
		if status != 0 || errs != "" {
			t.Errorf("%s: status %d, errors %q", command, status, errs)
		}
		if command == "" {
			// The list of commands grows with each of them; the words stay.
			out, _, _ = strings.Cut(out, "Available Commands:")
		}
		golden(t, name, out)
	}
}

func TestVersion(t *testing.T) {
	if status, out, _ := call(t, "", "version"); status != 0 || !strings.HasPrefix(out, "curvelint "+version) {
		t.Errorf("status %d: %s", status, out)
	}
}

func TestExplain(t *testing.T) {
	status, out, _ := call(t, "", "explain")
	for _, c := range diagnostics.Checks() {
		if !strings.Contains(out, "  "+c.ID+" ") {
			t.Errorf("the list has no %s", c.ID)
		}
	}
	if lines := strings.Split(strings.TrimSpace(out), "\n"); status != 0 || slices.ContainsFunc(lines, func(l string) bool { return len(l) > 100 }) {
		t.Errorf("status %d:\n%s", status, out)
	}
	status, out, _ = call(t, "", "explain", "still-blocked", "config")
	if status != 0 || !strings.HasPrefix(out, "# still-blocked:") || !strings.Contains(out, "\n\n# config:") {
		t.Errorf("status %d:\n%s", status, out)
	}
	status, out, errs := call(t, "", "explain", "blocked")
	if status != 2 || out != "" || !strings.Contains(errs, `unknown check "blocked"`) {
		t.Errorf("status %d: %q, %q", status, out, errs)
	}
}

func TestWrongCalls(t *testing.T) {
	shots(t, map[string]string{"a.bvh": winch, "empty/x.txt": ""})
	for _, tt := range []struct{ args, want string }{
		{"check", "check needs the path"},
		{"check --nonsense a.bvh", "unknown flag: --nonsense; see curvelint check --help"},
		{"check --format yaml a.bvh", "expected text, json, sarif or html"},
		{"check --checks pop,nonsense a.bvh", `unknown check`},
		{"check --frames 9-1 a.bvh", "--frames: the range 9-1 ends before it begins"},
		{"check --fail-on sometimes a.bvh", "unknown --fail-on"},
		{"check --fps -1 a.bvh", "--fps"},
		{"check --jobs -1 a.bvh", "--jobs"},
		{"check --worst -1 a.bvh", "--worst"},
		{"check --watch -", "standard input cannot be read again"},
		{"check --watch --format json a.bvh", "needs --output"},
		{"check --name x a.bvh", "--name is for standard input"},
		{"check missing.bvh", "missing.bvh does not exist"},
		{"check --config missing.toml a.bvh", "missing.toml does not exist"},
		{"check --output nowhere/x.json a.bvh", "cannot be written: no such file or directory"},
		{"check empty", "no scene files in empty; known extensions are"},
		{"check --fps 0 a.bvh", "--fps: expected at least 1, found 0"},
		{"check --jobs 0 a.bvh", "--jobs: expected at least 1, found 0"},
		{"check --worst 0 a.bvh", "--worst: expected at least 1, found 0"},
		{"check --checks even-spacin a.bvh", `unknown check "even-spacin"; did you mean "even-spacing"?`},
		{"check --skip nonsense a.bvh", `unknown check "nonsense"; curvelint explain lists the checks`},
		{"explain even", `unknown check "even"; did you mean "even-spacing"?`},
		{"check --frames 900-950 a.bvh", "a.bvh has none of the frames 900-950; its frames are "},
		{"compare --frames 900-950 a.bvh a.bvh", "--frames: a.bvh has none of the frames 900-950; its frames are "},
		{"compare --part *nose* a.bvh a.bvh", `--part: no part of either pass matches "*nose*"`},
		{"nonsense", `unknown command "nonsense"; expected one of `},
		{"chek a.bvh", `unknown command "chek"; did you mean "check"?`},
		{"a.bvh", `unknown command "a.bvh"; to check a file or folder, curvelint check a.bvh`},
	} {
		status, _, errs := call(t, "", strings.Fields(tt.args)...)
		if status != 2 || !strings.Contains(errs, tt.want) || !strings.HasPrefix(errs, "curvelint: ") {
			t.Errorf("%s: status %d, %q; want 2 and %q", tt.args, status, errs, tt.want)
		}
	}
}

func cancelled(t *testing.T) context.Context {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	return ctx
}
