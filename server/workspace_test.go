package server

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

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"
)

// folders says which folders are opened and closed.
func (e *editor) folders(added, removed []string) {
	e.t.Helper()
	p := &protocol.DidChangeWorkspaceFoldersParams{}
	for _, dir := range added {
		p.Event.Added = append(p.Event.Added, protocol.WorkspaceFolder{URI: uri.File(dir), Name: filepath.Base(dir)})
	}
	for _, dir := range removed {
		p.Event.Removed = append(p.Event.Removed, protocol.WorkspaceFolder{URI: uri.File(dir), Name: filepath.Base(dir)})
	}
	if err := e.server.DidChangeWorkspaceFolders(e.t.Context(), p); err != nil {
		e.t.Fatal(err)
	}
}

// TestSeveralFolders has two folders, each with a configuration of its own, that
// are opened and closed during the session.
func TestSeveralFolders(t *testing.T) {
	_, spline := demo(t, "deckhand_spline.usda")
	first, second := ferry(t), t.TempDir()
	write(t, second, "curvelint.toml", "[checks.even-spacing]\nseverity = \"off\"\n")
	e := start(t, inFolder(first))
	a := uri.File(write(t, first, "shot.usda", spline))
	b := write(t, second, "shot.usda", spline)
	e.watched(a.FsPath(), b) // what is outside all folders is not looked at
	e.await("notes in the first folder", func() bool {
		return e.published[a] != nil && hasCode(e.published[a].Diagnostics, "even-spacing")
	})
	e.folders([]string{second}, nil)
	e.watched(b)
	e.await("notes in the second folder, by its own configuration", func() bool {
		p := e.published[uri.File(b)]
		return p != nil && hasCode(p.Diagnostics, "same-frame") && !hasCode(p.Diagnostics, "even-spacing")
	})
	e.folders(nil, []string{second})
	e.await("no notes in a folder that is closed", func() bool { return len(e.published[uri.File(b)].Diagnostics) == 0 })
	e.mu.Lock()
	if len(e.published[a].Diagnostics) == 0 {
		t.Error("closing one folder took the notes of the other")
	}
	e.mu.Unlock()
}

// TestOutsideTheFolder opens a scene outside all folders: it is judged, may name
// files beside it and no others, until its folder is opened.
func TestOutsideTheFolder(t *testing.T) {
	_, spline := demo(t, "deckhand_spline.usda")
	show := t.TempDir()
	if err := os.Mkdir(filepath.Join(show, "shot"), 0o755); err != nil {
		t.Fatal(err)
	}
	layer := uri.File(write(t, show, "anim.usda", spline))
	text := "#usda 1.0\n(\n    subLayers = [@../anim.usda@]\n    timeCodesPerSecond = 24\n    startTimeCode = 1001\n    endTimeCode = 1096\n)\n"
	top := uri.File(write(t, filepath.Join(show, "shot"), "shot.usda", text))
	e := start(t, inFolder(t.TempDir()))
	e.open(top, text)
	e.await("a layer that may not be read", func() bool {
		return e.published[top] != nil && hasCode(e.published[top].Diagnostics, "missing-file")
	})
	e.folders([]string{show}, nil)
	e.await("notes on the layer, which may be read now", func() bool {
		p := e.published[layer]
		return p != nil && hasCode(p.Diagnostics, "even-spacing") && !hasCode(e.published[top].Diagnostics, "missing-file")
	})
}

// TestFetchedConfiguration has a client that is asked for its configuration, at
// the start and when it says that something changed. It goes over what stands in
// curvelint.toml, setting by setting.
func TestFetchedConfiguration(t *testing.T) {
	_, spline := demo(t, "deckhand_spline.usda")
	dir := t.TempDir()
	write(t, dir, "curvelint.toml", "[checks.same-frame]\nseverity = \"hint\"\n[checks.pop]\nseverity = \"off\"\n")
	u := uri.File(write(t, dir, "shot.usda", spline))
	e := start(t, func(p *protocol.InitializeParams) {
		inFolder(dir)(p)
		p.Capabilities.Workspace.Configuration = new(true)
		p.Capabilities.Workspace.DidChangeConfiguration = &protocol.DidChangeConfigurationClientCapabilities{DynamicRegistration: new(true)}
		p.Capabilities.Workspace.DidChangeWatchedFiles = nil
	})
	e.await("a registration for changes of the configuration", func() bool {
		return slices.ContainsFunc(e.registers, func(r protocol.Registration) bool {
			return r.Method == protocol.MethodWorkspaceDidChangeConfiguration && strings.Contains(string(r.RegisterOptions), `"curvelint"`)
		})
	})
	e.open(u, spline)
	severityOf := func(code string) func() protocol.DiagnosticSeverity {
		return func() protocol.DiagnosticSeverity {
			if p := e.published[u]; p != nil {
				for i := range p.Diagnostics {
					if codeOf(&p.Diagnostics[i]) == code {
						return p.Diagnostics[i].Severity
					}
				}
			}
			return 0
		}
	}
	twinned, pop := severityOf("same-frame"), severityOf("pop")
	e.await("a hint, by the file", func() bool { return twinned() == protocol.DiagnosticSeverityHint && pop() == 0 })
	e.note(func() {
		e.config = `{"settings": {"checks": {"same-frame": {"severity": "warning"}, "pop": {"min_turn": 3}}}}`
	})
	if err := e.server.DidChangeConfiguration(t.Context(), &protocol.DidChangeConfigurationParams{Settings: protocol.LSPAny("null")}); err != nil {
		t.Fatal(err)
	}
	e.await("a warning, by the client", func() bool { return twinned() == protocol.DiagnosticSeverityWarning })
	if e.note(func() {}); pop() != 0 {
		t.Error("what the file says of another check is gone")
	}
}

// TestCancelled cancels requests for the study of a large scene until one comes in
// time: the answer says so, and the server goes on.
func TestCancelled(t *testing.T) {
	e := startRecorded(t, nil)
	u := uri.File("/ferry/bake.usda")
	text := string(bakeOf(t, "usda", 4<<20))
	e.open(u, text)
	failed := func() bool {
		e.tape.mu.Lock()
		defer e.tape.mu.Unlock()
		for _, m := range e.tape.got {
			// -32800 is RequestCancelled (LSP 3.17, ErrorCodes).
			if m.method == "textDocument/documentSymbol" && m.failed {
				if m.code != -32800 {
					t.Errorf("a cancelled request fails with %d", m.code)
				}
				return true
			}
		}
		return false
	}
	for turn := range 60 {
		ctx, cancel := context.WithCancel(t.Context())
		time.AfterFunc(time.Duration(turn%20+1)*time.Millisecond, cancel)
		_, err := e.server.DocumentSymbol(ctx, &protocol.DocumentSymbolParams{TextDocument: doc(u)})
		cancel()
		// It may have been cancelled before it was written, or after the study.
		for wait := 0; err != nil && wait < 100 && !failed(); wait++ {
			time.Sleep(5 * time.Millisecond)
		}
		if failed() {
			if got := e.hover(u, at(lineOf(t, text, "def Xform"), 10)); got == "" {
				t.Error("no hover after a request was cancelled")
			}
			return
		}
		e.change(u, int32(turn+2), &protocol.TextDocumentContentChangeWholeDocument{Text: text + strings.Repeat("#", turn)})
	}
	t.Error("none of the requests was cancelled in time")
}

// kinds returns the kinds of progress reported under a token.
func (e *editor) kinds(token protocol.ProgressToken) (kinds []string) {
	for _, p := range e.progress {
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
	e := start(t, func(p *protocol.InitializeParams) {
		p.Capabilities.Window = &protocol.WindowClientCapabilities{WorkDoneProgress: new(true)}
	})
	e.open(uri.File("/ferry/bake.usda"), string(bakeOf(t, "usda", 4<<20)))
	e.await("progress from begin to end", func() bool {
		return len(e.tokens) == 1 && slices.Equal(slices.Sorted(slices.Values(e.kinds(e.tokens[0]))), []string{"begin", "end"})
	})
}

// TestPartialResults asks for the notes on a folder with tokens: all come before
// the answer, which is empty, each file once; the work is told from begin to end.
func TestPartialResults(t *testing.T) {
	_, spline := demo(t, "deckhand_spline.usda")
	dir := ferry(t)
	want := map[string]bool{}
	for i := range 5 {
		want[string(uri.File(write(t, dir, fmt.Sprintf("shot_%d.usda", i), spline)))] = true
	}
	e := start(t, pulling(dir))
	r, err := e.server.DiagnosticWorkspace(t.Context(), &protocol.WorkspaceDiagnosticParams{
		PreviousResultIds:      []protocol.PreviousResultId{},
		WorkDoneProgressParams: protocol.WorkDoneProgressParams{WorkDoneToken: protocol.String("work")},
		PartialResultParams:    protocol.PartialResultParams{PartialResultToken: protocol.String("part")},
	})
	if err != nil || len(r.Items) > 0 {
		t.Fatalf("the answer has %d files, %v", len(r.Items), err)
	}
	seen := map[string]int{}
	e.await("all files", func() bool {
		clear(seen)
		for _, p := range e.progress {
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
		return len(seen) >= len(want)
	})
	for u := range want {
		if seen[u] != 1 {
			t.Errorf("%s was reported %d times", u, seen[u])
		}
	}
	e.await("the end of the work", func() bool {
		kinds := e.kinds(protocol.String("work"))
		return slices.Contains(kinds, "begin") && slices.Contains(kinds, "end")
	})
}
