package judging_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"curvelint/cmd/lab/editor"
	"curvelint/server/wire"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"
)

// TestLayerNotes opens a scene whose animation is in a layer: the notes are
// published for the layer, and a new export of the layer refreshes them.
func TestLayerNotes(t *testing.T) {
	_, spline := editor.Demo(t, "deckhand_spline.usda")
	_, polish := editor.Demo(t, "deckhand_polish.usda")
	dir := editor.Ferry(t)
	layer := editor.Write(t, dir, "anim.usda", spline)
	top := editor.Write(t, dir, "shot.usda", "")
	e := editor.Start(t, editor.InFolder(dir))
	e.Open(uri.File(top), "#usda 1.0\n(\n    subLayers = [@./anim.usda@]\n    timeCodesPerSecond = 24\n    startTimeCode = 1001\n    endTimeCode = 1096\n)\n")
	e.Await("notes on the layer", func() bool {
		p := e.Published[uri.File(layer)]
		return p != nil && editor.HasCode(p.Diagnostics, "even-spacing") && editor.HasCode(p.Diagnostics, "frozen-hold")
	})
	if list := e.Notes(uri.File(top), 1); len(list) != 0 {
		t.Errorf("notes on the scene itself: %v", editor.Brief(list))
	}
	editor.Write(t, dir, "anim.usda", polish)
	e.Watched(layer)
	e.Await("no notes on the polished layer", func() bool {
		return !editor.HasCode(e.Published[uri.File(layer)].Diagnostics, "even-spacing")
	})

	// A layer that is open counts as it stands in the editor.
	e.Open(uri.File(layer), spline)
	e.Await("notes on the open layer", func() bool { return editor.HasCode(e.Published[uri.File(layer)].Diagnostics, "even-spacing") })
}

// TestExportOnDisk follows a file that is not open.
func TestExportOnDisk(t *testing.T) {
	_, spline := editor.Demo(t, "deckhand_spline.bvh")
	_, polish := editor.Demo(t, "deckhand_polish.bvh")
	dir := editor.Ferry(t)
	e := editor.Start(t, editor.InFolder(dir))
	e.Await("a registration for watched files", func() bool {
		return len(e.Registers) == 1 && strings.Contains(string(e.Registers[0].RegisterOptions), "**/*.bvh")
	})
	path := editor.Write(t, dir, "shot.bvh", spline)
	u := uri.File(path)
	e.Watched(path)
	e.Await("notes on a new export", func() bool {
		return e.Published[u] != nil && editor.HasCode(e.Published[u].Diagnostics, "even-spacing")
	})
	editor.Write(t, dir, "shot.bvh", polish)
	e.Watched(path)
	e.Await("the polish", func() bool { return !editor.HasCode(e.Published[u].Diagnostics, "even-spacing") })
	editor.Write(t, dir, "shot.bvh", spline)
	e.Watched(path)
	e.Await("the pass before again", func() bool { return editor.HasCode(e.Published[u].Diagnostics, "even-spacing") })
	os.Remove(path)
	e.Watched(path)
	e.Await("nothing on a file that is gone", func() bool { return len(e.Published[u].Diagnostics) == 0 })
}

// TestNotAScene passes over files on disk that only have the name of a scene.
func TestNotAScene(t *testing.T) {
	dir := t.TempDir()
	e := editor.Start(t, editor.InFolder(dir))
	csv := editor.Write(t, dir, "budget.csv", "item;cost\nrope;12\n")
	shot := editor.Write(t, dir, "shot.bvh", "HIERARCHY\nROOT a\n{\n")
	e.Watched(csv, shot)
	e.Await("notes on the broken scene", func() bool { return e.Published[uri.File(shot)] != nil })
	time.Sleep(300 * time.Millisecond)
	e.Mu.Lock()
	defer e.Mu.Unlock()
	if p := e.Published[uri.File(csv)]; p != nil && len(p.Diagnostics) > 0 {
		t.Errorf("a table of something else has notes: %v", editor.Brief(p.Diagnostics))
	}
}

// TestForeignTexts: an editor sends files of other programs, and they have no notes
// and no lenses; one whose name says that it is a scene has.
func TestForeignTexts(t *testing.T) {
	dir := t.TempDir()
	e := editor.Start(t, func(p *protocol.InitializeParams) {
		editor.InFolder(dir)(p)
		editor.WithBrowser(p)
	})
	for name, want := range map[string]int{
		"package.json": 0, "Cargo.toml": 0, "pom.xml": 0, "notes.txt": 0, "broken.gltf": 1, "broken.dae": 1,
	} {
		content := map[string]string{"package.json": `{"name": "x"}`, "Cargo.toml": "[a]\nb = 1\n", "pom.xml": "<a/>"}[name]
		u := uri.File(filepath.Join(dir, name))
		e.Open(u, content+"\n")
		if list := e.Settled(u, 1); min(len(list), 1) != want {
			t.Errorf("%s: notes %v", name, editor.Brief(list))
		}
		lenses, err := e.Server.CodeLens(t.Context(), &protocol.CodeLensParams{TextDocument: editor.Doc(u)})
		if err != nil || want == 0 && len(lenses) > 0 {
			t.Errorf("%s: %d lenses, %v", name, len(lenses), err)
		}
	}
}

// TestCloseJudgesTheFile: after closing, the file on disk counts; outside the
// workspace its notes go.
func TestCloseJudgesTheFile(t *testing.T) {
	_, spline := editor.Demo(t, "deckhand_spline.bvh")
	_, polish := editor.Demo(t, "deckhand_polish.bvh")
	dir := editor.Ferry(t)
	inside := editor.Write(t, dir, "shot.bvh", spline)
	outside := editor.Write(t, editor.Ferry(t), "other.bvh", spline)
	e := editor.Start(t, editor.InFolder(dir))
	for _, path := range []string{inside, outside} {
		e.Open(uri.File(path), polish)
		if list := e.Settled(uri.File(path), 1); editor.HasCode(list, "even-spacing") {
			t.Fatalf("the polish has notes: %v", editor.Brief(list))
		}
		e.Change(uri.File(path), 2, &protocol.TextDocumentContentChangeWholeDocument{Text: spline})
		e.Settled(uri.File(path), 2)
		e.Change(uri.File(path), 3, &protocol.TextDocumentContentChangeWholeDocument{Text: polish})
		e.Settled(uri.File(path), 3)
		if err := e.Server.DidClose(t.Context(), &protocol.DidCloseTextDocumentParams{TextDocument: editor.Doc(uri.File(path))}); err != nil {
			t.Fatal(err)
		}
	}
	e.Await("the file on disk", func() bool { return editor.HasCode(e.Published[uri.File(inside)].Diagnostics, "even-spacing") })
	e.Await("nothing on a file outside", func() bool { return len(e.Published[uri.File(outside)].Diagnostics) == 0 })
}

// TestConfigWatched publishes what is wrong with a curvelint.toml and judges
// anew when it changes, on disk and in the editor.
func TestConfigWatched(t *testing.T) {
	_, spline := editor.Demo(t, "deckhand_spline.usda")
	dir := t.TempDir()
	toml := editor.Write(t, dir, "curvelint.toml", "fps = \"many\"\n")
	u, conf := uri.File(editor.Write(t, dir, "shot.usda", spline)), uri.File(toml)
	e := editor.Start(t, editor.InFolder(dir))
	e.Open(u, spline)
	e.Await("an error in the configuration", func() bool {
		p := e.Published[conf]
		return p != nil && len(p.Diagnostics) == 1 && wire.CodeOf(&p.Diagnostics[0]) == "config" && p.Diagnostics[0].Range.Start == editor.At(0, 6)
	})
	if list := e.Settled(u, 1); !editor.HasCode(list, "even-spacing") {
		t.Fatalf("notes: %v", editor.Brief(list))
	}
	editor.Write(t, dir, "curvelint.toml", "[checks.even-spacing]\nseverity = \"off\"\n")
	e.Watched(toml)
	e.Await("no even spacing, and no error", func() bool {
		return !editor.HasCode(e.Published[u].Diagnostics, "even-spacing") && len(e.Published[conf].Diagnostics) == 0
	})
	e.Open(conf, "[checks.even-spacing]\nseverity = \"hint\"\n")
	e.Await("a hint", func() bool {
		for _, d := range e.Published[u].Diagnostics {
			if wire.CodeOf(&d) == "even-spacing" {
				return d.Severity == protocol.DiagnosticSeverityHint
			}
		}
		return false
	})
	e.Change(conf, 2, &protocol.TextDocumentContentChangeWholeDocument{Text: "[checks.nonsense]\n"})
	e.Await("an error in the open configuration", func() bool { return len(e.Published[conf].Diagnostics) == 1 })
}

// TestClientSettings puts the client's settings over the configuration.
func TestClientSettings(t *testing.T) {
	path, spline := editor.Demo(t, "deckhand_spline.usda")
	e := editor.Start(t, nil)
	u := uri.File(path)
	e.Open(u, spline)
	if list := e.Settled(u, 1); !editor.HasCode(list, "even-spacing") {
		t.Fatalf("notes: %v", editor.Brief(list))
	}
	set := func(settings string) {
		t.Helper()
		if err := e.Server.DidChangeConfiguration(t.Context(), &protocol.DidChangeConfigurationParams{Settings: protocol.LSPAny(settings)}); err != nil {
			t.Fatal(err)
		}
	}
	set(`{"curvelint": {"settings": {"handles": 2, "checks": {"even-spacing": {"severity": "off"}}}}}`)
	e.Await("no even spacing", func() bool { return !editor.HasCode(e.Published[u].Diagnostics, "even-spacing") })
	set(`{"curvelint": {"settings": {}}}`)
	e.Await("even spacing", func() bool { return editor.HasCode(e.Published[u].Diagnostics, "even-spacing") })
	set(`[]`) // an empty table as Lua writes it
	set(`{"curvelint": []}`)
	set(`{"curvelint": {"settings": []}}`)
	set(`{"curvelint": {"settings": {"fsp": 24}}}`)
	e.Await("a warning", func() bool { return len(e.Messages) == 1 && strings.Contains(e.Messages[0], "fsp") })
}

// TestHalfWritten keeps the last notes while an export comes in pieces, as an
// editor sees it that loads the file again, and has the right ones in the end.
func TestHalfWritten(t *testing.T) {
	_, spline := editor.Demo(t, "deckhand_spline.bvh")
	dir := t.TempDir()
	u := uri.File(filepath.Join(dir, "shot.bvh"))
	e := editor.Start(t, editor.InFolder(dir))
	e.Open(u, spline)
	if list := e.Settled(u, 1); !editor.HasCode(list, "even-spacing") {
		t.Fatalf("notes: %v", editor.Brief(list))
	}
	for i, share := range []float64{0.1, 0.4, 0.7} {
		part := spline[:int(share*float64(len(spline)))]
		e.Change(u, int32(2+i), &protocol.TextDocumentContentChangeWholeDocument{Text: part})
		list := e.Notes(u, int32(2+i))
		if !editor.HasCode(list, "even-spacing") || !editor.HasCode(list, "partial-export") && !editor.HasCode(list, "syntax") {
			t.Errorf("after %g of the file: %v", share, editor.Brief(list))
		}
	}
	e.Change(u, 5, &protocol.TextDocumentContentChangeWholeDocument{Text: spline})
	if list := e.Settled(u, 5); !editor.HasCode(list, "even-spacing") || editor.HasCode(list, "syntax") || editor.HasCode(list, "partial-export") {
		t.Errorf("after the whole file: %v", editor.Brief(list))
	}
	// A file that stays half written is judged as it is after a while.
	e.Change(u, 6, &protocol.TextDocumentContentChangeWholeDocument{Text: spline[:len(spline)/10]})
	if list := e.Settled(u, 6); editor.HasCode(list, "even-spacing") {
		t.Errorf("notes on frames that are gone: %v", editor.Brief(list))
	}
}
