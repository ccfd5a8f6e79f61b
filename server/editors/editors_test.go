// Package editors_test runs the editors themselves, with the snippets of this
// folder, against the program as built.
package editors_test

import (
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"
)

// program builds curvelint once and returns its path.
var program = sync.OnceValues(func() (string, error) {
	dir, err := os.MkdirTemp("", "curvelint-editors")
	if err != nil {
		return "", err
	}
	built = dir
	path := filepath.Join(dir, "curvelint")
	out, err := exec.Command("go", "build", "-o", path, "curvelint/cmd/curvelint").CombinedOutput()
	if err != nil {
		return "", fmt.Errorf("go build: %w\n%s", err, out)
	}
	return path, nil
})

var built string // folder to remove at the end

func TestMain(m *testing.M) {
	code := m.Run()
	if built != "" {
		os.RemoveAll(built)
	}
	os.Exit(code)
}

func curvelint(t *testing.T) string {
	t.Helper()
	path, err := program()
	if err != nil {
		t.Fatal(err)
	}
	return path
}

// need skips the test when an editor is not installed; with CI=true it fails.
func need(t *testing.T, command, install string) string {
	t.Helper()
	path, err := exec.LookPath(command)
	if err == nil {
		return path
	}
	if os.Getenv("CI") == "true" {
		t.Fatalf("%s is missing: %s", command, install)
	}
	t.Skipf("%s is missing: %s", command, install)
	return ""
}

// shot copies the demo into a folder of its own, so that edits stay there.
func shot(t *testing.T) (dir, file string) {
	t.Helper()
	dir = t.TempDir()
	for _, name := range []string{"deckhand_spline.usda", "deckhand_polish.usda", "curvelint.toml"} {
		b, err := os.ReadFile(filepath.Join("..", "..", "testdata", "demo", name))
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, name), b, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return dir, filepath.Join(dir, "deckhand_spline.usda")
}

// seen is what an editor shows; the scripts write it as JSON.
type seen struct {
	Notes  []seenNote `json:"notes"`
	Hover  string     `json:"hover"`
	Jumped string     `json:"jumped"` // the line that the jump to frame 1040 led to
	Parts  []string   `json:"parts"`  // names of all document symbols
	After  []seenNote `json:"after"`  // notes after the fix
	Fix    string     `json:"fix"`    // the title of the fix applied
	Text   string     `json:"text"`   // the buffer after it
	// Compared says what changed in the next pass.
	Compared string `json:"compared"`
	Messages string `json:"messages"` // what was said besides
	Error    string `json:"error"`
}

type seenNote struct {
	Line     int    `json:"line"`     // from 1
	Severity string `json:"severity"` // error, warning, information or hint
	Code     string `json:"code"`
	Message  string `json:"message"`
}

// expected returns what the command line says about the shot.
func expected(t *testing.T, file string) []seenNote {
	t.Helper()
	out, err := exec.Command(curvelint(t), "check", "--format", "json", "--fail-on", "never", file).Output()
	if err != nil {
		t.Fatalf("curvelint check: %v", err)
	}
	var report struct {
		Files []struct {
			Notes []struct {
				Check    string `json:"check"`
				Severity string `json:"severity"`
				Message  string `json:"message"`
				Start    struct {
					Line int `json:"line"`
				} `json:"start"`
			} `json:"notes"`
		} `json:"files"`
	}
	if err := json.Unmarshal(out, &report); err != nil {
		t.Fatal(err)
	}
	var notes []seenNote
	for _, n := range report.Files[0].Notes {
		notes = append(notes, seenNote{n.Start.Line, n.Severity, n.Check, n.Message})
	}
	return notes
}

// drive runs an editor and returns what its script wrote to the file that the
// environment variable RESULT names.
func drive(t *testing.T, file string, command ...string) seen {
	t.Helper()
	result := filepath.Join(t.TempDir(), "result.json")
	c := exec.Command(command[0], command[1:]...)
	home := t.TempDir()
	c.Dir = filepath.Dir(file)
	c.Env = append(os.Environ(), "RESULT="+result, "SHOT="+file, "CURVELINT="+curvelint(t),
		"HOME="+home, "XDG_CONFIG_HOME="+home, "XDG_DATA_HOME="+home, "XDG_STATE_HOME="+home, "XDG_CACHE_HOME="+home)
	done := time.AfterFunc(60*time.Second, func() { c.Process.Kill() })
	defer done.Stop()
	out, err := c.CombinedOutput()
	b, readErr := os.ReadFile(result)
	if readErr != nil {
		t.Fatalf("%s wrote no result: %v\n%s", command[0], err, out)
	}
	var s seen
	if err := json.Unmarshal(b, &s); err != nil {
		t.Fatalf("%v in %s", err, b)
	}
	if s.Error != "" {
		t.Fatalf("the editor's script failed: %s\n%s", s.Error, out)
	}
	return s
}

// check asserts what every editor must show for the shot.
func (s *seen) check(t *testing.T, file string, want []seenNote) {
	t.Helper()
	order := func(a, b seenNote) int { return strings.Compare(fmt.Sprint(a), fmt.Sprint(b)) }
	slices.SortFunc(s.Notes, order)
	slices.SortFunc(want, order)
	if !slices.Equal(s.Notes, want) {
		t.Errorf("the editor shows\n%v\nthe command line says\n%v", s.Notes, want)
	}
	for _, part := range []string{"head", "frame 1036", "even-spacing"} {
		if !strings.Contains(s.Hover, part) {
			t.Errorf("hover lacks %q:\n%s", part, s.Hover)
		}
	}
	if strings.Contains(s.Messages, "curvelint") {
		t.Errorf("the editor says %q", s.Messages)
	}
	if !strings.Contains(s.Compared, "timing unchanged") || !strings.Contains(s.Compared, "notes: 7 fixed, 0 remaining, 0 new") {
		t.Errorf("the comparison says %q", s.Compared)
	}
	if !strings.Contains(s.Jumped, "1040:") {
		t.Errorf("the jump to frame 1040 led to %q", s.Jumped)
	}
	for _, name := range []string{"Tug", "head"} {
		if !slices.Contains(s.Parts, name) {
			t.Errorf("no symbol %s among %v", name, s.Parts)
		}
	}
	s.checkFix(t, file)
}

// checkFix asserts that the fix changed the buffer so that the note is gone,
// there and for the command line.
func (s *seen) checkFix(t *testing.T, file string) {
	t.Helper()
	even := func(n seenNote) bool { return n.Code == "even-spacing" }
	if !strings.HasPrefix(s.Fix, "Ease this run") || slices.ContainsFunc(s.After, even) || len(s.After) != len(s.Notes)-1 {
		t.Errorf("after %q the editor shows\n%v", s.Fix, s.After)
	}
	if err := os.WriteFile(file, []byte(s.Text), 0o644); err != nil {
		t.Fatal(err)
	}
	if slices.ContainsFunc(expected(t, file), even) {
		t.Error("the command line still finds the run in the edited text")
	}
}
