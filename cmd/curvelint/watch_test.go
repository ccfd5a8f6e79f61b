package main

import (
	"context"
	"fmt"
	"os"
	"strings"
	"testing"
	"time"

	"curvelint/diagnostics/note"
)

// watching runs check --watch until the test ends.
func watching(t *testing.T, args ...string) (out, errs *buffer, end func() int) {
	t.Helper()
	ctx, cancel := context.WithCancel(t.Context())
	out, errs = &buffer{}, &buffer{}
	done := make(chan int, 1)
	go func() { done <- run(ctx, append([]string{"check", "--watch"}, args...), streams{nil, out, errs}) }()
	end = func() int {
		cancel()
		select {
		case status := <-done:
			return status
		case <-time.After(10 * time.Second):
			t.Fatal("watching does not end")
			return 0
		}
	}
	return out, errs, end
}

// eventually waits until something is so.
func eventually(t *testing.T, what string, is func() bool) {
	t.Helper()
	for deadline := time.Now().Add(10 * time.Second); time.Now().Before(deadline); time.Sleep(5 * time.Millisecond) {
		if is() {
			return
		}
	}
	t.Fatal("never: " + what)
}

func TestWatch(t *testing.T) {
	onlyInvented(t, note.Warning)
	shots(t, map[string]string{"s/a.bvh": winch, "s/b.bvh": winch})
	out, errs, end := watching(t, "s")
	eventually(t, "first notes", func() bool { return strings.Contains(errs.String(), "2 files") })

	// The change may come before the folder is watched: it is made again and
	// again until it is seen.
	hook := strings.ReplaceAll(winch, "drum", "hook")
	eventually(t, "a changed file is read again", func() bool {
		put(t, "s/a.bvh", hook)
		time.Sleep(2 * quiet)
		return strings.Contains(out.String(), "hook turns")
	})
	if n := strings.Count(out.String(), "b.bvh"); n != 1 {
		t.Errorf("the file that did not change was shown %d times", n)
	}

	put(t, "s/new/c.bvh", strings.ReplaceAll(winch, "drum", "chain"))
	eventually(t, "a new folder is read", func() bool { return strings.Contains(out.String(), "chain turns") })

	put(t, "s/curvelint.toml", "[checks.x-warning]\nseverity = \"hint\"\n")
	eventually(t, "a new configuration counts", func() bool { return strings.Count(out.String(), "hint: ") == 3 })

	if status := end(); status != 0 {
		t.Errorf("status %d", status)
	}
}

func TestWatchRewritesOutput(t *testing.T) {
	onlyInvented(t, note.Warning)
	shots(t, map[string]string{"a.bvh": winch, "b.bvh": winch})
	_, errs, end := watching(t, "--format", "json", "--output", "notes.json", ".")
	eventually(t, "first notes", func() bool { return strings.Contains(errs.String(), "2 files") })
	hook := strings.ReplaceAll(winch, "drum", "hook")
	eventually(t, "the report is written anew", func() bool {
		put(t, "a.bvh", hook)
		time.Sleep(2 * quiet)
		notes, err := os.ReadFile("notes.json")
		return err == nil && strings.Contains(string(notes), "hook turns") && strings.Contains(string(notes), "drum turns")
	})
	if err := os.Remove("b.bvh"); err != nil {
		t.Fatal(err)
	}
	eventually(t, "a removed file leaves the report", func() bool {
		notes, err := os.ReadFile("notes.json")
		return err == nil && !strings.Contains(string(notes), "drum turns")
	})
	end()
}

func TestWatchTellsWhatIsGone(t *testing.T) {
	onlyInvented(t, note.Warning)
	files := map[string]string{"s/a.bvh": winch, "s/b.bvh": winch, "named.bvh": winch}
	for i := range fewGone + 1 {
		files[fmt.Sprintf("s/many/%02d.bvh", i)] = winch
	}
	shots(t, files)
	_, errs, end := watching(t, "s", "named.bvh")
	eventually(t, "first notes", func() bool { return strings.Contains(errs.String(), "16 files") })

	// As above: until the folder is watched, changes are not seen.
	first := strings.Count(errs.String(), "s/a.bvh: 1 note")
	eventually(t, "changes are seen", func() bool {
		put(t, "s/a.bvh", winch)
		time.Sleep(2 * quiet)
		return strings.Count(errs.String(), "s/a.bvh: 1 note") > first
	})
	remove := func(path, said string, times int) {
		t.Helper()
		if err := os.RemoveAll(path); err != nil {
			t.Fatal(err)
		}
		eventually(t, said, func() bool { return strings.Count(errs.String(), said) == times })
	}
	remove("s/b.bvh", "s/b.bvh is gone, and its note with it\n", 1)
	remove("named.bvh", "named.bvh is gone, and its note with it\n", 1)
	remove("s/many", "13 files are gone, and their notes with them\n", 1)

	seen := len(errs.String())
	put(t, "s/a.bvh", strings.ReplaceAll(winch, "drum", "hook"))
	eventually(t, "another change", func() bool { return strings.Contains(errs.String()[seen:], "s/a.bvh: 1 note") })
	if n := strings.Count(errs.String(), "gone"); n != 3 || strings.Contains(errs.String(), "exist") {
		t.Errorf("told %d times that something is gone, expected once for each removal:\n%s", n, errs)
	}

	put(t, "named.bvh", winch)
	eventually(t, "a file that is back is checked", func() bool { return strings.Contains(errs.String()[seen:], "named.bvh: 1 note") })
	remove("named.bvh", "named.bvh is gone, and its note with it\n", 2)
	end()
}
