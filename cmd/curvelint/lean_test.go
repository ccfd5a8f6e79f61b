package main

import (
	"os"
	"strconv"
	"strings"
	"testing"

	"curvelint/diagnostics/checks"
	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
)

// large has files of any size checked the way large ones are.
func large(t *testing.T) {
	before := largeFile
	largeFile = 1
	t.Cleanup(func() { largeFile = before })
}

// What is said of a file does not depend on how much memory is used.
func TestLargeFiles(t *testing.T) {
	demo := "../../testdata/demo"
	for _, format := range []string{"text", "json"} {
		_, plain, _ := call(t, "", "check", "--format", format, demo)
		t.Run(format, func(t *testing.T) {
			large(t)
			status, out, errs := call(t, "", "check", "--format", format, demo)
			if out != plain || status != 1 {
				t.Errorf("status %d, %d bytes of notes instead of %d\n%s", status, len(out), len(plain), errs)
			}
		})
	}
}

// A file that changes while it is judged is judged again, as it is then.
func TestLargeFileChanges(t *testing.T) {
	large(t)
	onlyInvented(t)
	times := 0
	checks.All = append(checks.All, &kit.Check{
		ID: "x-warning", Severity: note.Warning, Group: kit.Noise, Title: "an invented flaw", Doc: "# x",
		Run: func(c *kit.Context) []note.Note {
			sc := c.Study.Scene
			if times++; times == 1 {
				put(t, "a.bvh", "\n\n"+winch)
			}
			return []note.Note{{Part: sc.Parts[0].Path, PartID: 0, Channel: 0, First: 1, Last: 2, Span: sc.KeySpan(0, 1, 0), Message: "here"}}
		}})
	shots(t, map[string]string{"a.bvh": winch})
	status, out, errs := call(t, "", "check", "a.bvh")
	line := 1 + strings.Count(winch[:strings.Index(winch, "Frame Time")], "\n") + 2 // of the second row
	if want := "a.bvh:" + strconv.Itoa(line+2) + ":1: "; status != 1 || times != 2 || !strings.HasPrefix(out, want) {
		t.Errorf("status %d after %d judgements, wanted %q: %s%s", status, times, want, out, errs)
	}

	// One that is gone by then could not be read.
	times = 1
	checks.All[0].Run = func(c *kit.Context) []note.Note {
		if err := os.Remove("a.bvh"); err != nil {
			t.Error(err)
		}
		return []note.Note{{Part: "/drum", PartID: 0, Channel: scene.NoChannel, First: 1, Last: 2, Message: "here"}}
	}
	if status, _, errs := call(t, "", "check", "a.bvh"); status != 2 || !strings.Contains(errs, "a.bvh does not exist") {
		t.Errorf("status %d: %s", status, errs)
	}
}
