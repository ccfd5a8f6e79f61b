package server

import (
	"testing"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"
)

// pulling makes a client that asks for notes.
func pulling(dir string) func(*protocol.InitializeParams) {
	return func(p *protocol.InitializeParams) {
		d := &protocol.DiagnosticClientCapabilities{RelatedDocumentSupport: new(true)}
		d.RelatedInformation = new(true)
		p.Capabilities.TextDocument.Diagnostic = d
		p.Capabilities.Workspace.Diagnostics = &protocol.DiagnosticWorkspaceClientCapabilities{RefreshSupport: new(true)}
		inFolder(dir)(p)
	}
}

// pull asks for the notes on a document.
func (e *editor) pull(u uri.URI, previous *string) protocol.DocumentDiagnosticReport {
	e.t.Helper()
	r, err := e.server.Diagnostic(e.t.Context(), &protocol.DocumentDiagnosticParams{TextDocument: doc(u), PreviousResultID: previous})
	if err != nil {
		e.t.Fatal(err)
	}
	return r
}

func TestPull(t *testing.T) {
	_, spline := demo(t, "deckhand_spline.usda")
	_, polish := demo(t, "deckhand_polish.usda")
	dir := ferry(t)
	path := write(t, dir, "shot.usda", spline)
	u := uri.File(path)
	e := start(t, pulling(dir))
	if e.result.Capabilities.DiagnosticProvider == nil {
		t.Fatal("pulling is not announced")
	}
	e.open(u, spline)
	first, ok := e.pull(u, nil).(*protocol.RelatedFullDocumentDiagnosticReport)
	if !ok || !hasCode(first.Items, "even-spacing") || first.ResultID == nil {
		t.Fatalf("report: %+v", first)
	}
	if _, ok := e.pull(u, first.ResultID).(*protocol.RelatedUnchangedDocumentDiagnosticReport); !ok {
		t.Error("the same notes were sent again")
	}
	e.change(u, 2, &protocol.TextDocumentContentChangeWholeDocument{Text: polish})
	second, ok := e.pull(u, first.ResultID).(*protocol.RelatedFullDocumentDiagnosticReport)
	if !ok || hasCode(second.Items, "even-spacing") {
		t.Fatalf("report after an edit: %+v", second)
	}
	e.mu.Lock()
	if len(e.published) > 0 {
		t.Errorf("notes were published to a client that asks for them: %v", e.published)
	}
	e.mu.Unlock()
	// A new configuration is a reason to ask again.
	write(t, dir, "curvelint.toml", "[checks.even-spacing]\nseverity = \"off\"\n")
	e.watched(dir + "/curvelint.toml")
	e.await("a request to ask again", func() bool { return e.refreshed > 0 })
}

func TestPullRelatedFiles(t *testing.T) {
	_, spline := demo(t, "deckhand_spline.usda")
	dir := ferry(t)
	layer := uri.File(write(t, dir, "anim.usda", spline))
	text := "#usda 1.0\n(\n    subLayers = [@./anim.usda@]\n    timeCodesPerSecond = 24\n)\n"
	top := uri.File(write(t, dir, "shot.usda", text))
	e := start(t, pulling(dir))
	e.open(top, text)
	r := e.pull(top, nil).(*protocol.RelatedFullDocumentDiagnosticReport)
	more, ok := r.RelatedDocuments[layer].(*protocol.FullDocumentDiagnosticReport)
	if !ok || !hasCode(more.Items, "even-spacing") || len(r.Items) != 0 {
		t.Errorf("report %v, related %v", brief(r.Items), r.RelatedDocuments)
	}
}

func TestPullWorkspace(t *testing.T) {
	_, spline := demo(t, "deckhand_spline.usda")
	_, polish := demo(t, "deckhand_polish.usda")
	dir := ferry(t)
	a, b := uri.File(write(t, dir, "a.usda", spline)), uri.File(write(t, dir, "b.usda", polish))
	e := start(t, pulling(dir))
	e.open(b, spline) // counts as it is in the editor
	ask := func(known map[uri.URI]string) map[uri.URI]protocol.WorkspaceDocumentDiagnosticReport {
		t.Helper()
		p := &protocol.WorkspaceDiagnosticParams{PreviousResultIds: []protocol.PreviousResultId{}}
		for u, id := range known {
			p.PreviousResultIds = append(p.PreviousResultIds, protocol.PreviousResultId{URI: u, Value: id})
		}
		r, err := e.server.DiagnosticWorkspace(t.Context(), p)
		if err != nil {
			t.Fatal(err)
		}
		out := map[uri.URI]protocol.WorkspaceDocumentDiagnosticReport{}
		for _, item := range r.Items {
			switch item := item.(type) {
			case *protocol.WorkspaceFullDocumentDiagnosticReport:
				out[item.URI] = item
			case *protocol.WorkspaceUnchangedDocumentDiagnosticReport:
				out[item.URI] = item
			}
		}
		return out
	}
	known := map[uri.URI]string{}
	for u, item := range ask(nil) {
		r := item.(*protocol.WorkspaceFullDocumentDiagnosticReport)
		if want := u == a || u == b; hasCode(r.Items, "even-spacing") != want {
			t.Errorf("%s: %v", u, brief(r.Items))
		}
		known[u] = *r.ResultID
	}
	if known[a] == "" || known[b] == "" {
		t.Fatalf("files reported: %v", known)
	}
	for u, item := range ask(known) {
		if _, ok := item.(*protocol.WorkspaceUnchangedDocumentDiagnosticReport); !ok {
			t.Errorf("%s was reported again: %+v", u, item)
		}
	}
	write(t, dir, "a.usda", polish)
	if r, ok := ask(known)[a].(*protocol.WorkspaceFullDocumentDiagnosticReport); !ok || hasCode(r.Items, "even-spacing") {
		t.Errorf("after a new export: %+v", r)
	}
}
