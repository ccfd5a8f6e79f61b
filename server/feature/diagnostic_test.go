package feature_test

import (
	"testing"

	"curvelint/cmd/lab/editor"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"
)

// pull asks for the notes on a document.
func pull(e *editor.Editor, u uri.URI, previous *string) protocol.DocumentDiagnosticReport {
	e.T.Helper()
	r, err := e.Server.Diagnostic(e.T.Context(), &protocol.DocumentDiagnosticParams{TextDocument: editor.Doc(u), PreviousResultID: previous})
	if err != nil {
		e.T.Fatal(err)
	}
	return r
}

func TestPull(t *testing.T) {
	_, spline := editor.Demo(t, "deckhand_spline.usda")
	_, polish := editor.Demo(t, "deckhand_polish.usda")
	dir := editor.Ferry(t)
	path := editor.Write(t, dir, "shot.usda", spline)
	u := uri.File(path)
	e := editor.Start(t, editor.Pulling(dir))
	if e.Result.Capabilities.DiagnosticProvider == nil {
		t.Fatal("pulling is not announced")
	}
	e.Open(u, spline)
	first, ok := pull(e, u, nil).(*protocol.RelatedFullDocumentDiagnosticReport)
	if !ok || !editor.HasCode(first.Items, "even-spacing") || first.ResultID == nil {
		t.Fatalf("report: %+v", first)
	}
	if _, ok := pull(e, u, first.ResultID).(*protocol.RelatedUnchangedDocumentDiagnosticReport); !ok {
		t.Error("the same notes were sent again")
	}
	e.Change(u, 2, &protocol.TextDocumentContentChangeWholeDocument{Text: polish})
	second, ok := pull(e, u, first.ResultID).(*protocol.RelatedFullDocumentDiagnosticReport)
	if !ok || editor.HasCode(second.Items, "even-spacing") {
		t.Fatalf("report after an edit: %+v", second)
	}
	e.Mu.Lock()
	if len(e.Published) > 0 {
		t.Errorf("notes were published to a client that asks for them: %v", e.Published)
	}
	e.Mu.Unlock()
	// A new configuration is a reason to ask again.
	editor.Write(t, dir, "curvelint.toml", "[checks.even-spacing]\nseverity = \"off\"\n")
	e.Watched(dir + "/curvelint.toml")
	e.Await("a request to ask again", func() bool { return e.Refreshed > 0 })
}

func TestPullRelatedFiles(t *testing.T) {
	_, spline := editor.Demo(t, "deckhand_spline.usda")
	dir := editor.Ferry(t)
	layer := uri.File(editor.Write(t, dir, "anim.usda", spline))
	text := "#usda 1.0\n(\n    subLayers = [@./anim.usda@]\n    timeCodesPerSecond = 24\n)\n"
	top := uri.File(editor.Write(t, dir, "shot.usda", text))
	e := editor.Start(t, editor.Pulling(dir))
	e.Open(top, text)
	r := pull(e, top, nil).(*protocol.RelatedFullDocumentDiagnosticReport)
	more, ok := r.RelatedDocuments[layer].(*protocol.FullDocumentDiagnosticReport)
	if !ok || !editor.HasCode(more.Items, "even-spacing") || len(r.Items) != 0 {
		t.Errorf("report %v, related %v", editor.Brief(r.Items), r.RelatedDocuments)
	}
}

func TestPullWorkspace(t *testing.T) {
	_, spline := editor.Demo(t, "deckhand_spline.usda")
	_, polish := editor.Demo(t, "deckhand_polish.usda")
	dir := editor.Ferry(t)
	a, b := uri.File(editor.Write(t, dir, "a.usda", spline)), uri.File(editor.Write(t, dir, "b.usda", polish))
	e := editor.Start(t, editor.Pulling(dir))
	e.Open(b, spline) // counts as it is in the editor
	ask := func(known map[uri.URI]string) map[uri.URI]protocol.WorkspaceDocumentDiagnosticReport {
		t.Helper()
		p := &protocol.WorkspaceDiagnosticParams{PreviousResultIds: []protocol.PreviousResultId{}}
		for u, id := range known {
			p.PreviousResultIds = append(p.PreviousResultIds, protocol.PreviousResultId{URI: u, Value: id})
		}
		r, err := e.Server.DiagnosticWorkspace(t.Context(), p)
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
		if want := u == a || u == b; editor.HasCode(r.Items, "even-spacing") != want {
			t.Errorf("%s: %v", u, editor.Brief(r.Items))
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
	editor.Write(t, dir, "a.usda", polish)
	if r, ok := ask(known)[a].(*protocol.WorkspaceFullDocumentDiagnosticReport); !ok || editor.HasCode(r.Items, "even-spacing") {
		t.Errorf("after a new export: %+v", r)
	}
}
