package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"curvelint/diagnostics/note"
	"curvelint/diagnostics/report"
)

func TestCheckText(t *testing.T) {
	onlyInvented(t, note.Information, note.Warning, note.Hint)
	shots(t, map[string]string{"shots/b.bvh": winch, "shots/a.bvh": winch, "shots/cut.bvh": cut,
		"shots/.hidden/c.bvh": winch, "shots/notes.txt": "no scene", "shots/deep/d.BVH": winch})
	status, out, errs := call(t, "", "check", "--skip", "x-hint", "shots", "shots/a.bvh", "./shots//b.bvh")
	want := `shots/a.bvh:2:1: information: frames: drum turns [x-information]
shots/a.bvh:2:1: warning: frames: drum turns [x-warning]
shots/b.bvh:2:1: information: frames: drum turns [x-information]
shots/b.bvh:2:1: warning: frames: drum turns [x-warning]
`
	if status != 1 || !strings.HasPrefix(out, want) || strings.Contains(out, "hidden") || strings.Count(out, "x-warning") != 4 {
		t.Errorf("status %d, output:\n%s", status, out)
	}
	if i, j := strings.Index(out, "shots/cut.bvh:"), strings.Index(out, "shots/deep/d.BVH:"); i < 0 || j < i {
		t.Errorf("not in the order of the paths:\n%s", out)
	}
	if !strings.Contains(errs, "shots/a.bvh: 2 notes (1 warning, 1 information)\n") || !strings.Contains(errs, "\n4 files, 4 with notes: ") {
		t.Errorf("summary:\n%s", errs)
	}
}

func TestFailOn(t *testing.T) {
	shots(t, map[string]string{"a.bvh": winch, "cut.bvh": cut, "no.bvh": "HIERARCHY\nROOT", "other.bin": "\x00\x01"})
	for _, tt := range []struct {
		found note.Severity
		args  string
		want  int
	}{
		{note.Warning, "a.bvh", 1},
		{note.Information, "a.bvh", 0},
		{note.Hint, "a.bvh", 0},
		{note.Information, "--fail-on information a.bvh", 1},
		{note.Hint, "--fail-on information a.bvh", 0},
		{note.Hint, "--fail-on hint a.bvh", 1},
		{note.Error, "--fail-on never a.bvh", 0},
		{note.Warning, "--fail-on error a.bvh", 0},
		{note.Warning, "--skip x-warning a.bvh", 0},
		{note.Hint, "cut.bvh", 1},                // partial-export is a warning
		{note.Hint, "--fail-on never no.bvh", 2}, // nothing could be made of it
		{note.Warning, "a.bvh missing.bvh", 2},   // 2 wins
		{note.Hint, "--fail-on never other.bin", 2},
	} {
		t.Run(fmt.Sprint(tt.found, " ", tt.args), func(t *testing.T) {
			onlyInvented(t, tt.found)
			status, out, errs := call(t, "", append([]string{"check"}, strings.Fields(tt.args)...)...)
			if status != tt.want {
				t.Errorf("status %d, want %d\n%s%s", status, tt.want, out, errs)
			}
		})
	}
}

func TestStandardInput(t *testing.T) {
	onlyInvented(t, note.Warning)
	shots(t, map[string]string{"show/curvelint.toml": "[checks.x-warning]\nseverity = \"hint\"\n"})
	status, out, _ := call(t, winch, "check", "-")
	if status != 1 || out != "stdin:2:1: warning: frames: drum turns [x-warning]\n" {
		t.Errorf("status %d: %q", status, out)
	}
	status, out, _ = call(t, winch, "check", "--name", "show/new.bvh", "-")
	if status != 0 || out != filepath.FromSlash("show/new.bvh")+":2:1: hint: frames: drum turns [x-warning]\n" {
		t.Errorf("status %d: %q", status, out)
	}
}

func TestConfigurationIsReported(t *testing.T) {
	onlyInvented(t, note.Warning)
	allow := "[[allow]]\ncheck = \"x-warning\"\nmatch = \"%s\"\nwhy = \"gag\"\n"
	shots(t, map[string]string{"a.bvh": winch, "b.bvh": strings.ReplaceAll(winch, "drum", "hook"),
		"curvelint.toml": "fsp = 24\n" + fmt.Sprintf(allow, "*drum*"), "other.toml": fmt.Sprintf(allow, "*hook*")})
	status, out, errs := call(t, "", "check", ".")
	want := "b.bvh:2:1: warning: frames: hook turns [x-warning]\n" +
		"curvelint.toml:1:1: error: unknown key \"fsp\"; did you mean \"fps\"? [config]\n"
	if status != 2 || out != want {
		t.Errorf("status %d:\n%s", status, out)
	}
	if !strings.Contains(errs, "curvelint.toml: 1 note (1 error)\n3 files, 2 with notes: 2 notes (1 error, 1 warning)") {
		t.Errorf("summary:\n%s", errs)
	}
	// The other configuration is needed by one of the files only, which is enough.
	status, out, _ = call(t, "", "check", "--config", "other.toml", ".")
	if status != 1 || out != "a.bvh:2:1: warning: frames: drum turns [x-warning]\n" {
		t.Errorf("status %d:\n%s", status, out)
	}
}

func TestFlagsOverConfiguration(t *testing.T) {
	onlyInvented(t, note.Warning)
	shots(t, map[string]string{"a.bvh": winch, "curvelint.toml": "fps = 30\nfirst_frame = 1001\nframes = \"1001-1002\"\n"})
	read := func(args ...string) report.File {
		t.Helper()
		_, out, errs := call(t, "", append([]string{"check", "--format", "json"}, args...)...)
		var form struct{ Files []report.File }
		if err := json.Unmarshal([]byte(out), &form); err != nil || len(form.Files) != 1 {
			t.Fatalf("%v: %s%s", err, out, errs)
		}
		return form.Files[0]
	}
	f := read("a.bvh")
	if f.FPS != 30 || *f.Frames != [2]float64{1001, 1004} || len(f.Notes) != 1 || *f.Notes[0].Frames != [2]float64{1001, 1003} {
		t.Errorf("as configured: %+v", f)
	}
	f = read("--fps", "25", "--frames", "1004-1010", "a.bvh")
	if f.FPS != 25 || len(f.Notes) != 0 {
		t.Errorf("with flags: %+v", f)
	}
}

func TestWorst(t *testing.T) {
	onlyInvented(t, note.Information, note.Hint, note.Warning)
	shots(t, map[string]string{"a.bvh": winch})
	_, out, _ := call(t, "", "check", "--worst", "2", "a.bvh")
	if d := cmp.Diff("a.bvh:2:1: hint: frames: drum turns [x-hint]\na.bvh:2:1: warning: frames: drum turns [x-warning]\n", out); d != "" {
		t.Error(d)
	}
}

func TestOutputFile(t *testing.T) {
	onlyInvented(t, note.Warning)
	shots(t, map[string]string{"a.bvh": winch, "out/notes.json": "old"})
	if err := os.Chmod("out/notes.json", 0o600); err != nil {
		t.Fatal(err)
	}
	status, out, errs := call(t, "", "check", "--format", "json", "--output", "out/notes.json", "a.bvh")
	if status != 1 || out != "" || !strings.Contains(errs, "1 note") {
		t.Errorf("status %d, output %q, %q", status, out, errs)
	}
	written, err := os.ReadFile("out/notes.json")
	if err != nil || !json.Valid(written) {
		t.Errorf("%v: %s", err, written)
	}
	if info, err := os.Stat("out/notes.json"); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("the permissions of the replaced file changed: %v, %v", info.Mode(), err)
	}
	// A file of notes that cannot be put in its place leaves nothing behind.
	if err := os.MkdirAll("out/folder/x", 0o755); err != nil {
		t.Fatal(err)
	}
	status, _, errs = call(t, "", "check", "--output", "out/folder", "a.bvh")
	if status != 2 || !strings.Contains(errs, "out/folder cannot be written") {
		t.Errorf("status %d, %q", status, errs)
	}
	names, err := filepath.Glob("out/.*")
	if err != nil || len(names) != 0 {
		t.Errorf("left behind: %v, %v", names, err)
	}
}

// failing is a full disk or a closed pipe.
type failing struct{}

func (failing) Write([]byte) (int, error) { return 0, os.ErrClosed }

func TestUnwritableOutput(t *testing.T) {
	onlyInvented(t, note.Warning)
	shots(t, map[string]string{"a.bvh": winch, "b.bvh": winch})
	for _, format := range report.Formats {
		var errs buffer
		status := run(t.Context(), []string{"check", "--format", format, "."}, streams{nil, failing{}, &errs})
		if status != 2 || !strings.Contains(errs.String(), "the notes could not be written") {
			t.Errorf("%s: status %d, %q", format, status, errs.String())
		}
	}
}

func TestSARIFIsWritten(t *testing.T) {
	onlyInvented(t, note.Warning)
	shots(t, map[string]string{"a.bvh": winch})
	_, out, _ := call(t, "", "check", "--format", "sarif", "a.bvh")
	if !json.Valid([]byte(out)) || !strings.Contains(out, `"ruleId": "x-warning"`) {
		t.Error(out)
	}
}

// A run that ends early is valid JSON, tells how far it came, and fails.
func TestInterrupted(t *testing.T) {
	files := map[string]string{}
	for i := range 30 {
		files[fmt.Sprintf("%02d.bvh", i)] = winch
	}
	shots(t, files)
	var out, errs buffer
	status := run(cancelled(t), []string{"check", "--format", "json", "."}, streams{nil, &out, &errs})
	if status != 2 || !json.Valid([]byte(out.String())) || !strings.Contains(errs.String(), "interrupted after 0 of 30 files") {
		t.Errorf("status %d, %q, %q", status, out.String(), errs.String())
	}
}

// However many files are read at a time, the report is the same.
func TestJobs(t *testing.T) {
	onlyInvented(t, note.Warning, note.Hint)
	files := map[string]string{}
	for i := range 40 {
		files[fmt.Sprintf("%02d.bvh", i)] = winch
	}
	shots(t, files)
	_, one, _ := call(t, "", "check", "--jobs", "1", ".")
	_, eight, _ := call(t, "", "check", "--jobs", "8", ".")
	if d := cmp.Diff(one, eight); d != "" {
		t.Error(d)
	}
}

func TestUnreadable(t *testing.T) {
	shots(t, map[string]string{"a.bvh": winch, "sub/b.bvh": winch})
	if err := os.Symlink("missing.bvh", "dangling.bvh"); err != nil {
		t.Skip("this system makes no symbolic links:", err)
	}
	if err := os.Symlink("sub", "linked"); err != nil {
		t.Fatal(err)
	}
	status, _, errs := call(t, "", "check", ".")
	if status != 2 || !strings.Contains(errs, "dangling.bvh does not exist") || !strings.Contains(errs, "2 files,") {
		t.Errorf("status %d: %s", status, errs)
	}
	// A link to a folder that is named is followed.
	if _, _, errs := call(t, "", "check", "linked"); !strings.Contains(errs, filepath.FromSlash("linked/b.bvh: ")) {
		t.Error(errs)
	}
}

func TestBudget(t *testing.T) {
	b := newBudget(10)
	if !b.take(6) || !b.take(4) {
		t.Fatal("the budget is too small")
	}
	got := make(chan bool)
	go func() { got <- b.take(100) }() // more than there is: all of it
	b.give(6)
	b.give(4)
	if !<-got {
		t.Error("the large one never got its turn")
	}
	go func() { got <- b.take(1) }()
	b.close()
	if <-got {
		t.Error("a closed budget gives")
	}
}
