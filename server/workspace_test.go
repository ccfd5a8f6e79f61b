package server_test

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"curvelint/cmd/lab/editor"
	"curvelint/server/wire"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"
)

// TestSeveralFolders has two folders, each with a configuration of its own, that
// are opened and closed during the session.
func TestSeveralFolders(t *testing.T) {
	_, spline := editor.Demo(t, "deckhand_spline.usda")
	first, second := editor.Ferry(t), t.TempDir()
	editor.Write(t, second, "curvelint.toml", "[checks.even-spacing]\nseverity = \"off\"\n")
	e := editor.Start(t, editor.InFolder(first))
	a := uri.File(editor.Write(t, first, "shot.usda", spline))
	b := editor.Write(t, second, "shot.usda", spline)
	e.Watched(a.FsPath(), b) // what is outside all folders is not looked at
	e.Await("notes in the first folder", func() bool {
		return e.Published[a] != nil && editor.HasCode(e.Published[a].Diagnostics, "even-spacing")
	})
	e.Folders([]string{second}, nil)
	e.Watched(b)
	e.Await("notes in the second folder, by its own configuration", func() bool {
		p := e.Published[uri.File(b)]
		return p != nil && editor.HasCode(p.Diagnostics, "same-frame") && !editor.HasCode(p.Diagnostics, "even-spacing")
	})
	e.Folders(nil, []string{second})
	e.Await("no notes in a folder that is closed", func() bool { return len(e.Published[uri.File(b)].Diagnostics) == 0 })
	e.Mu.Lock()
	if len(e.Published[a].Diagnostics) == 0 {
		t.Error("closing one folder took the notes of the other")
	}
	e.Mu.Unlock()
}

// TestOutsideTheFolder opens a scene outside all folders: it is judged, may name
// files beside it and no others, until its folder is opened.
func TestOutsideTheFolder(t *testing.T) {
	_, spline := editor.Demo(t, "deckhand_spline.usda")
	show := t.TempDir()
	if err := os.Mkdir(filepath.Join(show, "shot"), 0o755); err != nil {
		t.Fatal(err)
	}
	layer := uri.File(editor.Write(t, show, "anim.usda", spline))
	text := "#usda 1.0\n(\n    subLayers = [@../anim.usda@]\n    timeCodesPerSecond = 24\n    startTimeCode = 1001\n    endTimeCode = 1096\n)\n"
	top := uri.File(editor.Write(t, filepath.Join(show, "shot"), "shot.usda", text))
	e := editor.Start(t, editor.InFolder(t.TempDir()))
	e.Open(top, text)
	e.Await("a layer that may not be read", func() bool {
		return e.Published[top] != nil && editor.HasCode(e.Published[top].Diagnostics, "missing-file")
	})
	e.Folders([]string{show}, nil)
	e.Await("notes on the layer, which may be read now", func() bool {
		p := e.Published[layer]
		return p != nil && editor.HasCode(p.Diagnostics, "even-spacing") && !editor.HasCode(e.Published[top].Diagnostics, "missing-file")
	})
}

// TestFetchedConfiguration has a client that is asked for its configuration, at
// the start and when it says that something changed. It goes over what stands in
// curvelint.toml, setting by setting.
func TestFetchedConfiguration(t *testing.T) {
	_, spline := editor.Demo(t, "deckhand_spline.usda")
	dir := t.TempDir()
	editor.Write(t, dir, "curvelint.toml", "[checks.same-frame]\nseverity = \"hint\"\n[checks.pop]\nseverity = \"off\"\n")
	u := uri.File(editor.Write(t, dir, "shot.usda", spline))
	e := editor.Start(t, func(p *protocol.InitializeParams) {
		editor.InFolder(dir)(p)
		p.Capabilities.Workspace.Configuration = new(true)
		p.Capabilities.Workspace.DidChangeConfiguration = &protocol.DidChangeConfigurationClientCapabilities{DynamicRegistration: new(true)}
		p.Capabilities.Workspace.DidChangeWatchedFiles = nil
	})
	e.Await("a registration for changes of the configuration", func() bool {
		return slices.ContainsFunc(e.Registers, func(r protocol.Registration) bool {
			return r.Method == protocol.MethodWorkspaceDidChangeConfiguration && strings.Contains(string(r.RegisterOptions), `"curvelint"`)
		})
	})
	e.Open(u, spline)
	severityOf := func(code string) func() protocol.DiagnosticSeverity {
		return func() protocol.DiagnosticSeverity {
			if p := e.Published[u]; p != nil {
				for i := range p.Diagnostics {
					if wire.CodeOf(&p.Diagnostics[i]) == code {
						return p.Diagnostics[i].Severity
					}
				}
			}
			return 0
		}
	}
	twinned, pop := severityOf("same-frame"), severityOf("pop")
	e.Await("a hint, by the file", func() bool { return twinned() == protocol.DiagnosticSeverityHint && pop() == 0 })
	e.Note(func() {
		e.Config = `{"settings": {"checks": {"same-frame": {"severity": "warning"}, "pop": {"min_turn": 3}}}}`
	})
	if err := e.Server.DidChangeConfiguration(t.Context(), &protocol.DidChangeConfigurationParams{Settings: protocol.LSPAny("null")}); err != nil {
		t.Fatal(err)
	}
	e.Await("a warning, by the client", func() bool { return twinned() == protocol.DiagnosticSeverityWarning })
	if e.Note(func() {}); pop() != 0 {
		t.Error("what the file says of another check is gone")
	}
}

// TestCancelled cancels requests for the study of a large scene until one comes in
// time: the answer says so, and the server goes on.
func TestCancelled(t *testing.T) {
	e := editor.StartRecorded(t, nil)
	u := uri.File("/ferry/bake.usda")
	text := string(editor.Bake(t, "usda", 4<<20))
	e.Open(u, text)
	failed := func() bool {
		for _, m := range e.Tape.Got() {
			// -32800 is RequestCancelled (LSP 3.17, ErrorCodes).
			if m.Method == "textDocument/documentSymbol" && m.Failed {
				if m.Code != -32800 {
					t.Errorf("a cancelled request fails with %d", m.Code)
				}
				return true
			}
		}
		return false
	}
	for turn := range 60 {
		ctx, cancel := context.WithCancel(t.Context())
		time.AfterFunc(time.Duration(turn%20+1)*time.Millisecond, cancel)
		_, err := e.Server.DocumentSymbol(ctx, &protocol.DocumentSymbolParams{TextDocument: editor.Doc(u)})
		cancel()
		// It may have been cancelled before it was written, or after the study.
		for wait := 0; err != nil && wait < 100 && !failed(); wait++ {
			time.Sleep(5 * time.Millisecond)
		}
		if failed() {
			if got := e.Hover(u, editor.At(editor.LineOf(t, text, "def Xform"), 10)); got == "" {
				t.Error("no hover after a request was cancelled")
			}
			return
		}
		e.Change(u, int32(turn+2), &protocol.TextDocumentContentChangeWholeDocument{Text: text + strings.Repeat("#", turn)})
	}
	t.Error("none of the requests was cancelled in time")
}

// kinds returns the kinds of progress reported under a token.
func kinds(e *editor.Editor, token protocol.ProgressToken) (kinds []string) {
	for _, p := range e.Progress {
		if fmt.Sprint(p.Token) != fmt.Sprint(token) {
			continue
		}
		var v struct{ Kind string }
		if err := json.Unmarshal(p.Value, &v); err != nil || v.Kind == "" {
			v.Kind = "result"
		}
		kinds = append(kinds, v.Kind)
	}
	return kinds
}

// TestSlowStudy shows progress of a study that takes long, from begin to end.
func TestSlowStudy(t *testing.T) {
	e := editor.Start(t, func(p *protocol.InitializeParams) {
		p.Capabilities.Window = &protocol.WindowClientCapabilities{WorkDoneProgress: new(true)}
	})
	e.Open(uri.File("/ferry/bake.usda"), string(editor.Bake(t, "usda", 4<<20)))
	e.Await("progress from begin to end", func() bool {
		return len(e.Tokens) == 1 && slices.Equal(slices.Sorted(slices.Values(kinds(e, e.Tokens[0]))), []string{"begin", "end"})
	})
}

// TestPartialResults asks for the notes on a folder with tokens: all come before
// the answer, which is empty, each file once; the work is told from begin to end.
func TestPartialResults(t *testing.T) {
	_, spline := editor.Demo(t, "deckhand_spline.usda")
	dir := editor.Ferry(t)
	want := map[string]bool{}
	for i := range 5 {
		want[string(uri.File(editor.Write(t, dir, fmt.Sprintf("shot_%d.usda", i), spline)))] = true
	}
	e := editor.Start(t, editor.Pulling(dir))
	r, err := e.Server.DiagnosticWorkspace(t.Context(), &protocol.WorkspaceDiagnosticParams{
		PreviousResultIds:      []protocol.PreviousResultId{},
		WorkDoneProgressParams: protocol.WorkDoneProgressParams{WorkDoneToken: protocol.String("work")},
		PartialResultParams:    protocol.PartialResultParams{PartialResultToken: protocol.String("part")},
	})
	if err != nil || len(r.Items) > 0 {
		t.Fatalf("the answer has %d files, %v", len(r.Items), err)
	}
	seen := map[string]int{}
	e.Await("all files", func() bool {
		clear(seen)
		for _, p := range e.Progress {
			var v struct {
				Items []struct {
					URI   string
					Items []json.RawMessage
				}
			}
			if fmt.Sprint(p.Token) == "part" && json.Unmarshal(p.Value, &v) == nil {
				for _, item := range v.Items {
					seen[item.URI]++
					if want[item.URI] && len(item.Items) == 0 {
						t.Errorf("%s has no notes", item.URI)
					}
				}
			}
		}
		for u := range want { // messages are taken in side by side, in any order
			if seen[u] == 0 {
				return false
			}
		}
		return true
	})
	for u := range want {
		if seen[u] != 1 {
			t.Errorf("%s was reported %d times", u, seen[u])
		}
	}
	e.Await("the end of the work", func() bool {
		kinds := kinds(e, protocol.String("work"))
		return slices.Contains(kinds, "begin") && slices.Contains(kinds, "end")
	})
}
