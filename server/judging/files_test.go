package server

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"
)

// write writes a file and returns its path.
func write(t *testing.T, dir, name, content string) string {
	t.Helper()
	path := filepath.Join(dir, name)
	if err := os.WriteFile(path, []byte(content), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// ferry returns a folder with the configuration of the demo.
func ferry(t *testing.T) string {
	t.Helper()
	_, toml := demo(t, "curvelint.toml")
	dir := t.TempDir()
	write(t, dir, "curvelint.toml", toml)
	return dir
}

// TestLayerNotes opens a scene whose animation is in a layer: the notes are
// published for the layer, and a new export of the layer refreshes them.
func TestLayerNotes(t *testing.T) {
	_, spline := demo(t, "deckhand_spline.usda")
	_, polish := demo(t, "deckhand_polish.usda")
	dir := ferry(t)
	layer := write(t, dir, "anim.usda", spline)
	top := write(t, dir, "shot.usda", "")
	e := start(t, inFolder(dir))
	e.open(uri.File(top), "#usda 1.0\n(\n    subLayers = [@./anim.usda@]\n    timeCodesPerSecond = 24\n    startTimeCode = 1001\n    endTimeCode = 1096\n)\n")
	e.await("notes on the layer", func() bool {
		p := e.published[uri.File(layer)]
		return p != nil && hasCode(p.Diagnostics, "even-spacing") && hasCode(p.Diagnostics, "frozen-hold")
	})
	if list := e.notes(uri.File(top), 1); len(list) != 0 {
		t.Errorf("notes on the scene itself: %v", brief(list))
	}
	write(t, dir, "anim.usda", polish)
	e.watched(layer)
	e.await("no notes on the polished layer", func() bool {
		return !hasCode(e.published[uri.File(layer)].Diagnostics, "even-spacing")
	})

	// A layer that is open counts as it stands in the editor.
	e.open(uri.File(layer), spline)
	e.await("notes on the open layer", func() bool { return hasCode(e.published[uri.File(layer)].Diagnostics, "even-spacing") })
}

// TestExportOnDisk follows a file that is not open.
func TestExportOnDisk(t *testing.T) {
	_, spline := demo(t, "deckhand_spline.bvh")
	_, polish := demo(t, "deckhand_polish.bvh")
	dir := ferry(t)
	e := start(t, inFolder(dir))
	e.await("a registration for watched files", func() bool {
		return len(e.registers) == 1 && strings.Contains(string(e.registers[0].RegisterOptions), "**/*.bvh")
	})
	path := write(t, dir, "shot.bvh", spline)
	u := uri.File(path)
	e.watched(path)
	e.await("notes on a new export", func() bool { return e.published[u] != nil && hasCode(e.published[u].Diagnostics, "even-spacing") })
	write(t, dir, "shot.bvh", polish)
	e.watched(path)
	e.await("the polish", func() bool { return !hasCode(e.published[u].Diagnostics, "even-spacing") })
	write(t, dir, "shot.bvh", spline)
	e.watched(path)
	e.await("the pass before again", func() bool { return hasCode(e.published[u].Diagnostics, "even-spacing") })
	os.Remove(path)
	e.watched(path)
	e.await("nothing on a file that is gone", func() bool { return len(e.published[u].Diagnostics) == 0 })
}

// TestNotAScene passes over files on disk that only have the name of a scene.
func TestNotAScene(t *testing.T) {
	dir := t.TempDir()
	e := start(t, inFolder(dir))
	csv := write(t, dir, "budget.csv", "item;cost\nrope;12\n")
	shot := write(t, dir, "shot.bvh", "HIERARCHY\nROOT a\n{\n")
	e.watched(csv, shot)
	e.await("notes on the broken scene", func() bool { return e.published[uri.File(shot)] != nil })
	time.Sleep(3 * diskPause)
	e.mu.Lock()
	defer e.mu.Unlock()
	if p := e.published[uri.File(csv)]; p != nil && len(p.Diagnostics) > 0 {
		t.Errorf("a table of something else has notes: %v", brief(p.Diagnostics))
	}
}

// TestForeignTexts: an editor sends files of other programs, and they have no notes
// and no lenses; one whose name says that it is a scene has.
func TestForeignTexts(t *testing.T) {
	dir := t.TempDir()
	e := start(t, func(p *protocol.InitializeParams) {
		inFolder(dir)(p)
		withBrowser(p)
	})
	for name, want := range map[string]int{
		"package.json": 0, "Cargo.toml": 0, "pom.xml": 0, "notes.txt": 0, "broken.gltf": 1, "broken.dae": 1,
	} {
		content := map[string]string{"package.json": `{"name": "x"}`, "Cargo.toml": "[a]\nb = 1\n", "pom.xml": "<a/>"}[name]
		u := uri.File(filepath.Join(dir, name))
		e.open(u, content+"\n")
		if list := e.settled(u, 1); min(len(list), 1) != want {
			t.Errorf("%s: notes %v", name, brief(list))
		}
		lenses, err := e.server.CodeLens(t.Context(), &protocol.CodeLensParams{TextDocument: doc(u)})
		if err != nil || want == 0 && len(lenses) > 0 {
			t.Errorf("%s: %d lenses, %v", name, len(lenses), err)
		}
	}
}

// TestCloseJudgesTheFile: after closing, the file on disk counts; outside the
// workspace its notes go.
func TestCloseJudgesTheFile(t *testing.T) {
	_, spline := demo(t, "deckhand_spline.bvh")
	_, polish := demo(t, "deckhand_polish.bvh")
	dir := ferry(t)
	inside := write(t, dir, "shot.bvh", spline)
	outside := write(t, ferry(t), "other.bvh", spline)
	e := start(t, inFolder(dir))
	for _, path := range []string{inside, outside} {
		e.open(uri.File(path), polish)
		if list := e.settled(uri.File(path), 1); hasCode(list, "even-spacing") {
			t.Fatalf("the polish has notes: %v", brief(list))
		}
		e.change(uri.File(path), 2, &protocol.TextDocumentContentChangeWholeDocument{Text: spline})
		e.settled(uri.File(path), 2)
		e.change(uri.File(path), 3, &protocol.TextDocumentContentChangeWholeDocument{Text: polish})
		e.settled(uri.File(path), 3)
		if err := e.server.DidClose(t.Context(), &protocol.DidCloseTextDocumentParams{TextDocument: doc(uri.File(path))}); err != nil {
			t.Fatal(err)
		}
	}
	e.await("the file on disk", func() bool { return hasCode(e.published[uri.File(inside)].Diagnostics, "even-spacing") })
	e.await("nothing on a file outside", func() bool { return len(e.published[uri.File(outside)].Diagnostics) == 0 })
}

// TestConfigWatched publishes what is wrong with a curvelint.toml and judges
// anew when it changes, on disk and in the editor.
func TestConfigWatched(t *testing.T) {
	_, spline := demo(t, "deckhand_spline.usda")
	dir := t.TempDir()
	toml := write(t, dir, "curvelint.toml", "fps = \"many\"\n")
	u, conf := uri.File(write(t, dir, "shot.usda", spline)), uri.File(toml)
	e := start(t, inFolder(dir))
	e.open(u, spline)
	e.await("an error in the configuration", func() bool {
		p := e.published[conf]
		return p != nil && len(p.Diagnostics) == 1 && codeOf(&p.Diagnostics[0]) == "config" && p.Diagnostics[0].Range.Start == at(0, 6)
	})
	if list := e.settled(u, 1); !hasCode(list, "even-spacing") {
		t.Fatalf("notes: %v", brief(list))
	}
	write(t, dir, "curvelint.toml", "[checks.even-spacing]\nseverity = \"off\"\n")
	e.watched(toml)
	e.await("no even spacing, and no error", func() bool {
		return !hasCode(e.published[u].Diagnostics, "even-spacing") && len(e.published[conf].Diagnostics) == 0
	})
	e.open(conf, "[checks.even-spacing]\nseverity = \"hint\"\n")
	e.await("a hint", func() bool {
		for _, d := range e.published[u].Diagnostics {
			if codeOf(&d) == "even-spacing" {
				return d.Severity == protocol.DiagnosticSeverityHint
			}
		}
		return false
	})
	e.change(conf, 2, &protocol.TextDocumentContentChangeWholeDocument{Text: "[checks.nonsense]\n"})
	e.await("an error in the open configuration", func() bool { return len(e.published[conf].Diagnostics) == 1 })
}

// TestClientSettings puts the client's settings over the configuration.
func TestClientSettings(t *testing.T) {
	path, spline := demo(t, "deckhand_spline.usda")
	e := start(t, nil)
	u := uri.File(path)
	e.open(u, spline)
	if list := e.settled(u, 1); !hasCode(list, "even-spacing") {
		t.Fatalf("notes: %v", brief(list))
	}
	set := func(settings string) {
		t.Helper()
		if err := e.server.DidChangeConfiguration(t.Context(), &protocol.DidChangeConfigurationParams{Settings: protocol.LSPAny(settings)}); err != nil {
			t.Fatal(err)
		}
	}
	set(`{"curvelint": {"settings": {"handles": 2, "checks": {"even-spacing": {"severity": "off"}}}}}`)
	e.await("no even spacing", func() bool { return !hasCode(e.published[u].Diagnostics, "even-spacing") })
	set(`{"curvelint": {"settings": {}}}`)
	e.await("even spacing", func() bool { return hasCode(e.published[u].Diagnostics, "even-spacing") })
	set(`[]`) // an empty table as Lua writes it
	set(`{"curvelint": []}`)
	set(`{"curvelint": {"settings": []}}`)
	set(`{"curvelint": {"settings": {"fsp": 24}}}`)
	e.await("a warning", func() bool { return len(e.messages) == 1 && strings.Contains(e.messages[0], "fsp") })
}

// TestHalfWritten keeps the last notes while an export comes in pieces, as an
// editor sees it that loads the file again, and has the right ones in the end.
func TestHalfWritten(t *testing.T) {
	_, spline := demo(t, "deckhand_spline.bvh")
	dir := t.TempDir()
	u := uri.File(filepath.Join(dir, "shot.bvh"))
	e := start(t, inFolder(dir))
	e.open(u, spline)
	if list := e.settled(u, 1); !hasCode(list, "even-spacing") {
		t.Fatalf("notes: %v", brief(list))
	}
	for i, share := range []float64{0.1, 0.4, 0.7} {
		part := spline[:int(share*float64(len(spline)))]
		e.change(u, int32(2+i), &protocol.TextDocumentContentChangeWholeDocument{Text: part})
		list := e.notes(u, int32(2+i))
		if !hasCode(list, "even-spacing") || !hasCode(list, "partial-export") && !hasCode(list, "syntax") {
			t.Errorf("after %g of the file: %v", share, brief(list))
		}
	}
	e.change(u, 5, &protocol.TextDocumentContentChangeWholeDocument{Text: spline})
	if list := e.settled(u, 5); !hasCode(list, "even-spacing") || hasCode(list, "syntax") || hasCode(list, "partial-export") {
		t.Errorf("after the whole file: %v", brief(list))
	}
	// A file that stays half written is judged as it is after a while.
	e.change(u, 6, &protocol.TextDocumentContentChangeWholeDocument{Text: spline[:len(spline)/10]})
	if list := e.settled(u, 6); hasCode(list, "even-spacing") {
		t.Errorf("notes on frames that are gone: %v", brief(list))
	}
}
