package main

import (
	"io"
	"net/http"
	"os"
	"strings"
	"testing"
	"time"

	"curvelint/diagnostics/note"
)

func TestViewCalls(t *testing.T) {
	onlyInvented(t, note.Warning)
	shots(t, map[string]string{"a.bvh": winch, "b.bvh": winch, "broken.bvh": "HIERARCHY", "still.csv": "x"})
	for _, tt := range []struct {
		args, want string
	}{
		{"", "path of a scene file"},
		{"a b c", "path of a scene file"},
		{"missing.bvh", "missing.bvh"},
		{"broken.bvh", "broken.bvh"},
		{"a.bvh missing.bvh", "missing.bvh"},
		{"a.bvh broken.bvh", "broken.bvh"},
		{"--port 70000 a.bvh", "--port"},
		{"--port -1 a.bvh", "--port"},
		{"--config missing.toml a.bvh", "missing.toml"},
		{"--output nowhere/x.html a.bvh", "nowhere"},
	} {
		status, out, errs := call(t, "", append([]string{"view"}, strings.Fields(tt.args)...)...)
		if status != statusFailed || out != "" || !strings.HasPrefix(errs, "curvelint: ") || !strings.Contains(errs, tt.want) {
			t.Errorf("%s: status %d, out %q, %q", tt.args, status, out, errs)
		}
	}
}

// The page holds the notes and the earlier pass, and asks for nothing elsewhere.
func TestViewOutput(t *testing.T) {
	onlyInvented(t, note.Warning)
	shots(t, map[string]string{"a.bvh": winch, "b.bvh": winch})
	if status, out, errs := call(t, "", "view", "--output", "a.html", "a.bvh", "b.bvh"); status != statusClean || out+errs != "" {
		t.Fatalf("status %d: %s%s", status, out, errs)
	}
	b, err := os.ReadFile("a.html")
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{`"check":"x-warning"`, `"before":{`, "b.bvh", "connect-src &#39;none&#39;"} {
		if !strings.Contains(string(b), want) {
			t.Errorf("the page lacks %s", want)
		}
	}
	for _, not := range []string{"http://", "https://", " src=", "data-revision="} {
		if strings.Contains(string(b), not) {
			t.Errorf("the page has %s", not)
		}
	}
}

// Several files are one page; what cannot be read is said and left out; a
// configuration with mistakes is on it.
func TestCheckHTML(t *testing.T) {
	onlyInvented(t, note.Warning)
	shots(t, map[string]string{"a.bvh": winch, "b.bvh": winch, "c/broken.bvh": "HIERARCHY", "curvelint.toml": "fsp = 1\n"})
	status, out, errs := call(t, "", "check", "--format", "html", ".", "missing.bvh")
	if status != statusFailed || strings.Count(out, `class="shot"`) != 4 || !strings.Contains(errs, "missing.bvh") {
		t.Errorf("status %d, %d shots: %s", status, strings.Count(out, `class="shot"`), errs)
	}
	status, out, _ = call(t, "", "check", "--format", "html", "--before", "a.bvh", "--config", "", "b.bvh")
	if status != statusFailed || !strings.Contains(out, `"name":"a.bvh"`) || !strings.Contains(out, `"notes":[]`) {
		t.Errorf("status %d: %.300s", status, out)
	}
}

// A page that is served follows its file; an unfinished file leaves it alone.
func TestViewFollows(t *testing.T) {
	onlyInvented(t, note.Warning)
	shots(t, map[string]string{"a.bvh": winch})
	address, end := viewing(t, "a.bvh")
	shot := func() string {
		a, err := http.Get(address + "shot")
		if err != nil {
			t.Fatal(err)
		}
		defer a.Body.Close()
		b, _ := io.ReadAll(a.Body)
		return string(b)
	}
	until := func(what string, ok func() bool) {
		t.Helper()
		for start := time.Now(); !ok(); time.Sleep(10 * time.Millisecond) {
			if time.Since(start) > 20*time.Second {
				t.Fatal("waited in vain: ", what)
			}
		}
	}
	first := shot()
	if !strings.Contains(first, "drum") {
		t.Fatalf("%.200s", first)
	}
	events, err := http.Get(address + "events")
	if err != nil {
		t.Fatal(err)
	}
	defer events.Body.Close()
	told := &buffer{}
	go io.Copy(told, events.Body)
	put(t, "a.bvh", winch[:len(winch)-8])
	until("the fault", func() bool { return strings.Contains(told.String(), "last good state") })
	if shot() != first {
		t.Error("an unfinished file is shown")
	}
	put(t, "a.bvh", strings.Replace(winch, "drum", "gull", 1))
	until("the next state", func() bool { return strings.Contains(shot(), `"gull"`) })
	put(t, "curvelint.toml", "first_frame = 1001\n")
	until("the configuration", func() bool { return strings.Contains(shot(), `"first":1001`) })
	if err := os.Remove("a.bvh"); err != nil {
		t.Fatal(err)
	}
	until("the file is gone", func() bool { return strings.Count(told.String(), "last good state") == 2 })
	if status := end(); status != statusClean {
		t.Errorf("status %d", status)
	}
}

// A page follows the layers of its file and the earlier pass too, in whatever
// folder they are.
func TestViewFollowsLayers(t *testing.T) {
	onlyInvented(t, note.Warning)
	layer := `#usda 1.0
def Xform "drum" {
    double3 xformOp:translate.timeSamples = { 1: (0, 0, 0), 2: (1, 0, 0), 3: (3, 0, 0) }
    uniform token[] xformOpOrder = ["xformOp:translate"]
}
`
	shots(t, map[string]string{"new/a.usda": "#usda 1.0\n(\n    subLayers = [@./layers/base.usda@]\n)\n", "new/layers/base.usda": layer, "old/a.usda": layer})
	address, end := viewing(t, "new/a.usda", "old/a.usda")
	revision := func() string {
		a, err := http.Get(address + "shot")
		if err != nil {
			t.Fatal(err)
		}
		a.Body.Close()
		return a.Header.Get("Revision")
	}
	for i, change := range []func(){
		func() { put(t, "new/layers/base.usda", strings.Replace(layer, "(3, 0, 0)", "(4, 0, 0)", 1)) },
		func() { put(t, "old/a.usda", strings.Replace(layer, "(3, 0, 0)", "(2, 0, 0)", 1)) },
	} {
		was := revision()
		change()
		for start := time.Now(); revision() == was; time.Sleep(10 * time.Millisecond) {
			if time.Since(start) > 20*time.Second {
				t.Fatalf("change %d is not followed", i)
			}
		}
	}
	if status := end(); status != statusClean {
		t.Errorf("status %d", status)
	}
}
