package main

import (
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"
	"testing/iotest"
	"time"

	"github.com/google/go-cmp/cmp"
)

// manyShots makes a folder of shots the current one.
func manyShots(t *testing.T, n int) {
	t.Helper()
	files := map[string]string{}
	for i := range n {
		files[fmt.Sprintf("s/shot%03d.bvh", i)] = strings.ReplaceAll(winch, "drum", fmt.Sprintf("drum%d", i))
	}
	shots(t, files)
}

// TestOutOfDescriptors: with fewer and fewer descriptors check either gives the
// very notes that it gives else, or says what could not be read.
func TestOutOfDescriptors(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("needs a system that limits descriptors")
	}
	manyShots(t, 12)
	want := finish(t, process(t, "check", "--format", "json", "--jobs", "8", "s"))
	short := 0
	// Go's own runtime ends a program that cannot have eight.
	for limit := 20; limit >= 8; limit-- {
		before := listing(t, ".")
		got := finish(t, limited(t, fmt.Sprintf("-n %d", limit), "check", "--format", "json", "--jobs", "8", "--output", "notes.txt", "s"))
		after := listing(t, ".")
		switch {
		case got.status == 2:
			short++
			if !strings.Contains(got.errs, "too many open files") && !strings.Contains(got.errs, "cannot be") {
				t.Errorf("%d descriptors: it is not said what is wrong: %q", limit, got.errs)
			}
		case after["notes.txt"] != want.out || got.status != want.status:
			t.Errorf("%d descriptors: status %d, %s", limit, got.status, cmp.Diff(want.out, after["notes.txt"]))
		}
		delete(after, "notes.txt")
		delete(before, "notes.txt")
		if diff := cmp.Diff(before, after); diff != "" {
			t.Errorf("%d descriptors: files changed: %s", limit, diff)
		}
		os.Remove("notes.txt")
	}
	if short == 0 {
		t.Error("no limit was low enough to be felt")
	}
}

// TestFullDisk: a report that does not fit leaves the earlier report as it was
// and nothing half written, and is an error.
func TestFullDisk(t *testing.T) {
	if runtime.GOOS != "linux" {
		t.Skip("needs Linux, where a small disk can be made of memory")
	}
	manyShots(t, 300)
	disk := t.TempDir()
	if out, err := exec.Command("mount", "-t", "tmpfs", "-o", "size=32k", "tmpfs", disk).CombinedOutput(); err != nil {
		t.Skipf("needs the right to mount a disk of its own (run as root): %v, %s", err, out)
	}
	defer exec.Command("umount", disk).Run()
	report := filepath.Join(disk, "notes.json")
	put(t, report, "earlier")
	got := finish(t, process(t, "check", "--format", "json", "--output", report, "s"))
	if got.status != 2 || !strings.Contains(got.errs, report+" cannot be written: no space left on device") {
		t.Errorf("status %d, %q", got.status, got.errs)
	}
	if diff := cmp.Diff(map[string]string{report: "earlier"}, listing(t, disk)); diff != "" {
		t.Error(diff)
	}
}

// TestFullDevice: devices are written to, never replaced, and are full at
// times.
func TestFullDevice(t *testing.T) {
	full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	if err != nil {
		t.Skip("needs a system that has /dev/full")
	}
	defer full.Close()
	b, err := os.ReadFile(filepath.Join("..", "..", "testdata", "demo", "deckhand_spline.bvh"))
	if err != nil {
		t.Fatal(err)
	}
	shots(t, map[string]string{"s/deckhand.bvh": string(b)})
	c := process(t, "check", "s")
	c.Stdout = full
	for name, c := range map[string]*exec.Cmd{"standard output": c, "--output": process(t, "check", "--output", "/dev/full", "s")} {
		if got := finish(t, c); got.status != 2 || !strings.Contains(got.errs, "no space left on device") {
			t.Errorf("%s: status %d, %q", name, got.status, got.errs)
		}
	}
	if got := finish(t, process(t, "check", "--output", "/dev/null", "s")); got.status == 2 {
		t.Errorf("/dev/null: %q", got.errs)
	}
	for _, device := range []string{"/dev/full", "/dev/null"} {
		if info, err := os.Stat(device); err != nil || info.Mode().IsRegular() {
			t.Fatalf("%s is no device any more: %v, %v", device, info, err)
		}
	}
}

// TestOutputThroughLink: a link to the report stays one.
func TestOutputThroughLink(t *testing.T) {
	manyShots(t, 1)
	put(t, "kept/notes.txt", "earlier")
	if err := os.Symlink(filepath.Join("kept", "notes.txt"), "notes.txt"); err != nil {
		t.Skip("needs a file system with symbolic links")
	}
	finish(t, process(t, "check", "--output", "notes.txt", "s"))
	if info, err := os.Lstat("notes.txt"); err != nil || info.Mode()&os.ModeSymlink == 0 {
		t.Errorf("the link was replaced: %v, %v", info, err)
	}
	if b, err := os.ReadFile("kept/notes.txt"); err != nil || string(b) == "earlier" {
		t.Errorf("the report is not where the link leads: %q, %v", b, err)
	}
}

// TestReadErrorInTheMiddle: what breaks off is said to, and the rest is
// checked.
func TestReadErrorInTheMiddle(t *testing.T) {
	shots(t, map[string]string{"a.bvh": winch})
	broken := io.MultiReader(strings.NewReader(winch[:len(winch)/2]), iotest.ErrReader(errors.New("the cable was pulled")))
	var out, errs buffer
	if status := run(t.Context(), []string{"check", "--name", "b.bvh", "-", "a.bvh"}, streams{broken, &out, &errs}); status != 2 {
		t.Errorf("status %d", status)
	}
	if !strings.Contains(errs.String(), "b.bvh cannot be read: the cable was pulled") || strings.Contains(out.String(), "b.bvh") {
		t.Errorf("%q, %q", errs.String(), out.String())
	}
	if !strings.Contains(errs.String(), "a.bvh: no notes") {
		t.Errorf("the other file was not checked: %q", errs.String())
	}
	// A file on Linux that is regular and fails when it is read.
	if err := os.Symlink("/proc/self/mem", "c.bvh"); err == nil && runtime.GOOS == "linux" {
		got := finish(t, process(t, "check", "."))
		if got.status != 2 || !strings.Contains(got.errs, "c.bvh cannot be read: input/output error") || !strings.Contains(got.errs, "a.bvh: no notes") {
			t.Errorf("status %d, %q", got.status, got.errs)
		}
	}
}

// TestFilesChangeWhileChecked: files that are replaced and deleted all the time
// give the notes on one of their versions or are said to be gone.
func TestFilesChangeWhileChecked(t *testing.T) {
	manyShots(t, 40)
	long := winch[:strings.Index(winch, "MOTION")] + "MOTION\nFrames: 3\nFrame Time: 0.0416667\n0 0 0\n0 0 1\n0 0 0\n"
	stop, done := make(chan bool), make(chan bool)
	go func() {
		defer close(done)
		r := rand.New(rand.NewPCG(1, 2))
		for {
			select {
			case <-stop:
				return
			default:
			}
			name := fmt.Sprintf("s/shot%03d.bvh", r.IntN(40))
			os.Remove(name)
			os.WriteFile("fresh", []byte(long), 0o644)
			os.Rename("fresh", name)
		}
	}()
	for range 10 {
		got := finish(t, process(t, "check", "s"))
		for line := range strings.Lines(got.errs) {
			if !strings.Contains(line, "does not exist") && !strings.Contains(line, "no notes") && !strings.Contains(line, "cannot be read") {
				t.Errorf("%q", line)
			}
		}
		if strings.Contains(got.out, "[internal]") || strings.Contains(got.out, "[syntax]") {
			t.Errorf("%s", got.out)
		}
	}
	close(stop)
	<-done
}

// TestPipeClosedInAMessage: an editor that dies in the middle of a word ends
// the server, which leaves nothing.
func TestPipeClosedInAMessage(t *testing.T) {
	manyShots(t, 1)
	before := listing(t, ".")
	for _, end := range []string{"Content-Le", "Content-Length: 400\r\n\r\n", "Content-Length: 400\r\n\r\n{\"jsonrpc\":\"2.0\",\"method\":\"text"} {
		s := serving(t, process(t, "serve"), 0)
		if _, err := io.WriteString(s.in, end); err != nil {
			t.Fatal(err)
		}
		s.in.Close()
		if code := s.ends(); code != 1 {
			t.Errorf("after %q: status %d, want 1", end, code)
		}
	}
	if diff := cmp.Diff(before, listing(t, ".")); diff != "" {
		t.Error(diff)
	}
}

// TestEditorKilled: the server ends when the editor's process is gone, although
// its standard input is still open.
func TestEditorKilled(t *testing.T) {
	sleep, err := exec.LookPath("sleep")
	if err != nil {
		t.Skip("needs the program sleep to stand for an editor")
	}
	editor := exec.CommandContext(t.Context(), sleep, "60")
	if err := editor.Start(); err != nil {
		t.Fatal(err)
	}
	s := serving(t, process(t, "serve"), editor.Process.Pid)
	s.open("file:///ferry/winch.bvh", winch, 1)
	if _, ok := s.notes("file:///ferry/winch.bvh", 1); !ok {
		t.Fatal("no notes")
	}
	editor.Process.Kill()
	editor.Wait()
	if code := s.ends(); code != 1 {
		t.Errorf("status %d, want 1: there was no shutdown", code)
	}
}

// TestServerKilled: the server is killed at random during 200 edits and started
// again. What it says then is what one says that was never killed, and no file
// has changed.
func TestServerKilled(t *testing.T) {
	b, err := os.ReadFile(filepath.Join("..", "..", "testdata", "demo", "deckhand_spline.bvh"))
	if err != nil {
		t.Fatal(err)
	}
	text := string(b)
	shots(t, map[string]string{"deckhand.bvh": text})
	before := listing(t, ".")
	path, err := filepath.Abs("deckhand.bvh")
	if err != nil {
		t.Fatal(err)
	}
	uri := "file://" + filepath.ToSlash(path)
	r := rand.New(rand.NewPCG(3, 9))
	s := serving(t, process(t, "serve"), 0)
	s.open(uri, text, 1)
	died := 0
	for version := 2; version <= 201; version++ {
		text = edit(s, r, uri, text, version)
		if r.IntN(20) == 0 {
			died++
			// Now, or in the midst of its work.
			time.Sleep(time.Duration(r.IntN(4)) * time.Millisecond)
			if err := s.process.Process.Signal(syscall.SIGKILL); err != nil {
				t.Fatal(err)
			}
			s.process.Wait()
			s = serving(t, process(t, "serve"), 0)
			s.open(uri, text, version)
		}
	}
	got, ok := s.notes(uri, 201)
	fresh := serving(t, process(t, "serve"), 0)
	fresh.open(uri, text, 201)
	want, ok2 := fresh.notes(uri, 201)
	if !ok || !ok2 || got != want {
		t.Errorf("after %d deaths: %v, %v: %s", died, ok, ok2, cmp.Diff(want, got))
	}
	if died == 0 || len(want) < 10 {
		t.Errorf("%d deaths, notes %s", died, want)
	}
	if diff := cmp.Diff(before, listing(t, ".")); diff != "" {
		t.Error(diff)
	}
}

// edit replaces a digit somewhere in the frames and returns the new text.
func edit(s *session, r *rand.Rand, uri, text string, version int) string {
	frames := strings.Index(text, "Frame Time")
	frames += strings.IndexByte(text[frames:], '\n')
	at := frames + r.IntN(len(text)-frames)
	for text[at] < '0' || text[at] > '9' {
		at = max(at-1, frames+1)
		if at == frames+1 {
			break
		}
	}
	line := strings.Count(text[:at], "\n")
	column := at - 1 - strings.LastIndexByte(text[:at], '\n')
	digit := string(rune('0' + r.IntN(10)))
	s.notify("textDocument/didChange", fmt.Sprintf(
		`{"textDocument":{"uri":%q,"version":%d},"contentChanges":[{"range":{"start":{"line":%d,"character":%d},"end":{"line":%d,"character":%d}},"text":%q}]}`,
		uri, version, line, column, line, column+1, digit))
	return text[:at] + digit + text[at+1:]
}

// TestServerShortOfDescriptors: what is open in the editor needs none; a layer
// that cannot be opened for want of them is a note, and comes back with them.
func TestServerShortOfDescriptors(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("needs a system that limits descriptors")
	}
	shots(t, map[string]string{"layer.usda": "#usda 1.0\n"})
	path, err := filepath.Abs("top.usda")
	if err != nil {
		t.Fatal(err)
	}
	uri := "file://" + filepath.ToSlash(path)
	for limit := 8; limit <= 12; limit++ {
		s := serving(t, limited(t, fmt.Sprintf("-n %d", limit), "serve"), 0)
		s.open(uri, "#usda 1.0\n(\n    subLayers = [@./layer.usda@]\n)\ndef Xform \"winch\"\n{\n}\n", 1)
		notes, ok := s.notes(uri, 1)
		if !ok {
			t.Fatalf("%d descriptors: the server died", limit)
		}
		if strings.Contains(notes, "missing-file") && !strings.Contains(notes, "too many open files") {
			t.Errorf("%d descriptors: %s", limit, notes)
		}
		s.call("shutdown", "null")
		s.notify("exit", "null")
		if code := s.ends(); code != 0 {
			t.Errorf("%d descriptors: status %d", limit, code)
		}
	}
}
