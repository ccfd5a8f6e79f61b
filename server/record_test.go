package server_test

import (
	"encoding/json"
	"reflect"
	"strings"
	"testing"

	"curvelint/cmd/lab/editor"
	"curvelint/server/show"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"
)

// shape decodes a message into the protocol's type for it and encodes it
// again: what the type does not know is lost, what it does not take fails.
func shape[T any](body []byte) ([]byte, error) {
	var v T
	if err := protocol.Unmarshal(body, &v); err != nil {
		return nil, err
	}
	return protocol.Marshal(&v)
}

// shapes are the types of all messages that the server may send.
var shapes = map[string]func([]byte) ([]byte, error){
	"initialize":                        shape[protocol.InitializeResult],
	"textDocument/hover":                shape[*protocol.Hover],
	"textDocument/documentSymbol":       shape[[]protocol.DocumentSymbol],
	"workspace/symbol":                  shape[[]protocol.SymbolInformation],
	"textDocument/foldingRange":         shape[[]protocol.FoldingRange],
	"textDocument/selectionRange":       shape[[]protocol.SelectionRange],
	"textDocument/definition":           shape[[]protocol.Location],
	"textDocument/references":           shape[[]protocol.Location],
	"textDocument/documentHighlight":    shape[[]protocol.DocumentHighlight],
	"textDocument/codeLens":             shape[[]protocol.CodeLens],
	"codeLens/resolve":                  shape[protocol.CodeLens],
	"textDocument/inlayHint":            shape[[]protocol.InlayHint],
	"textDocument/semanticTokens/full":  shape[*protocol.SemanticTokens],
	"textDocument/semanticTokens/range": shape[*protocol.SemanticTokens],
	"textDocument/codeAction":           shape[[]protocol.CodeAction],
	"codeAction/resolve":                shape[protocol.CodeAction],
	"workspace/executeCommand":          shape[protocol.LSPAny],
	"workspace/textDocumentContent":     shape[protocol.TextDocumentContentResult],
	"workspace/diagnostic":              shape[protocol.WorkspaceDiagnosticReport],
	"textDocument/diagnostic":           shape[protocol.RelatedFullDocumentDiagnosticReport],
	"shutdown":                          shape[protocol.LSPAny],
	"textDocument/publishDiagnostics":   shape[protocol.PublishDiagnosticsParams],
	"window/showMessage":                shape[protocol.ShowMessageParams],
	"window/showDocument":               shape[protocol.ShowDocumentParams],
	"window/workDoneProgress/create":    shape[protocol.WorkDoneProgressCreateParams],
	"client/registerCapability":         shape[protocol.RegistrationParams],
	"workspace/configuration":           shape[protocol.ConfigurationParams],
	"workspace/diagnostic/refresh":      shape[protocol.LSPAny],
	"workspace/inlayHint/refresh":       shape[protocol.LSPAny],
	"workspace/codeLens/refresh":        shape[protocol.LSPAny],
	"workspace/semanticTokens/refresh":  shape[protocol.LSPAny],
	"$/progress":                        shape[protocol.ProgressParams],
	"workspace/applyEdit":               shape[protocol.ApplyWorkspaceEditParams],
}

// TestEverythingAnswers records whole sessions, with notes pushed and pulled,
// in which every capability that is announced is used. All messages of the
// server's have the protocol's shapes, and no request fails.
func TestEverythingAnswers(t *testing.T) {
	for _, pulled := range []bool{false, true} {
		dir := editor.Ferry(t)
		_, content := editor.Demo(t, "deckhand_spline.usda")
		_, polish := editor.Demo(t, "deckhand_polish.usda")
		// Which one came first does not matter here; this one has notes.
		editor.Write(t, dir, "shot_spline.usda", polish)
		u := uri.File(editor.Write(t, dir, "shot_polish.usda", content))
		e := editor.StartRecorded(t, func(p *protocol.InitializeParams) {
			editor.Everything(p)
			editor.InFolder(dir)(p)
			if pulled {
				editor.Pulling(dir)(p)
			}
		})
		e.Open(u, content)
		used := useAll(e, u, content)
		announced(t, e.Result.Capabilities, used)
		e.Stop()
		got := e.Tape.Got()
		for _, m := range got {
			checkShape(t, &m)
		}
		if len(got) < 20 {
			t.Errorf("%d messages recorded", len(got))
		}
	}
}

// checkShape holds a message against the protocol.
func checkShape(t *testing.T, m *editor.Recorded) {
	t.Helper()
	decode := shapes[m.Method]
	if decode == nil {
		t.Errorf("unexpected %s: %.200s", m.Method, m.Body)
		return
	}
	if m.Failed {
		t.Errorf("%s failed", m.Method)
		return
	}
	if len(m.Body) == 0 {
		return
	}
	again, err := decode(m.Body)
	if err != nil {
		t.Errorf("%s: %v in %.200s", m.Method, err, m.Body)
		return
	}
	var a, b any
	if json.Unmarshal(m.Body, &a) != nil || json.Unmarshal(again, &b) != nil || !reflect.DeepEqual(a, b) {
		t.Errorf("%s is not of the protocol's shape:\n%.300s\n%.300s", m.Method, m.Body, again)
	}
}

// useAll makes every kind of request on an open scene and returns the
// capabilities used, by the names of their fields.
func useAll(e *editor.Editor, u uri.URI, content string) map[string]bool {
	e.T.Helper()
	ctx := e.T.Context()
	key := editor.LineWith(e.T.(*testing.T), content, `def Xform "head"`, "1040:")
	at := protocol.TextDocumentPositionParams{TextDocument: editor.Doc(u), Position: editor.At(key, 46)}
	all := editor.Span(0, 0, strings.Count(content, "\n"), 0)
	used := map[string]bool{"PositionEncoding": true, "TextDocumentSync": true, "Workspace": true}
	ok := func(field string, err error) {
		e.T.Helper()
		used[field] = true
		if err != nil {
			e.T.Errorf("%s: %v", field, err)
		}
	}
	_, err := e.Server.Hover(ctx, &protocol.HoverParams{TextDocumentPositionParams: at})
	ok("HoverProvider", err)
	_, err = e.Server.DocumentSymbol(ctx, &protocol.DocumentSymbolParams{TextDocument: editor.Doc(u)})
	ok("DocumentSymbolProvider", err)
	_, err = e.Server.Symbols(ctx, &protocol.WorkspaceSymbolParams{Query: "1040"})
	ok("WorkspaceSymbolProvider", err)
	_, err = e.Server.FoldingRanges(ctx, &protocol.FoldingRangeParams{TextDocument: editor.Doc(u)})
	ok("FoldingRangeProvider", err)
	_, err = e.Server.SelectionRange(ctx, &protocol.SelectionRangeParams{TextDocument: editor.Doc(u), Positions: []protocol.Position{at.Position}})
	ok("SelectionRangeProvider", err)
	_, err = e.Server.Definition(ctx, &protocol.DefinitionParams{TextDocumentPositionParams: at})
	ok("DefinitionProvider", err)
	_, err = e.Server.References(ctx, &protocol.ReferenceParams{TextDocumentPositionParams: at})
	ok("ReferencesProvider", err)
	_, err = e.Server.DocumentHighlight(ctx, &protocol.DocumentHighlightParams{TextDocumentPositionParams: at})
	ok("DocumentHighlightProvider", err)
	lenses, err := e.Server.CodeLens(ctx, &protocol.CodeLensParams{TextDocument: editor.Doc(u)})
	ok("CodeLensProvider", err)
	for i := range lenses {
		if len(lenses[i].Data) > 0 {
			_, err = e.Server.CodeLensResolve(ctx, &lenses[i])
			ok("CodeLensProvider", err)
		}
	}
	_, err = e.Server.InlayHint(ctx, &protocol.InlayHintParams{TextDocument: editor.Doc(u), Range: all})
	ok("InlayHintProvider", err)
	_, err = e.Server.SemanticTokensFull(ctx, &protocol.SemanticTokensParams{TextDocument: editor.Doc(u)})
	ok("SemanticTokensProvider", err)
	_, err = e.Server.SemanticTokensRange(ctx, &protocol.SemanticTokensRangeParams{TextDocument: editor.Doc(u), Range: all})
	ok("SemanticTokensProvider", err)
	for _, address := range []uri.URI{show.CheckAddress("pop"), show.ComparisonAddress(u, "shot_polish.usda")} {
		_, err = e.Server.TextDocumentContent(ctx, &protocol.TextDocumentContentParams{URI: address})
		ok("Workspace", err)
	}
	useActions(e, u, all, ok)
	if e.Result.Capabilities.DiagnosticProvider != nil {
		_, err = e.Server.Diagnostic(ctx, &protocol.DocumentDiagnosticParams{TextDocument: editor.Doc(u)})
		ok("DiagnosticProvider", err)
		_, err = e.Server.DiagnosticWorkspace(ctx, &protocol.WorkspaceDiagnosticParams{PreviousResultIds: []protocol.PreviousResultId{}})
		ok("DiagnosticProvider", err)
	} else {
		e.Settled(u, 1)
	}
	return used
}

// useActions resolves every action in a range and executes every command.
func useActions(e *editor.Editor, u uri.URI, all protocol.Range, ok func(string, error)) {
	e.T.Helper()
	ctx := e.T.Context()
	executed := map[string]bool{}
	run := func(c protocol.Command) {
		if c.Command != "" && !executed[c.Command] {
			executed[c.Command] = true
			_, err := e.Server.ExecuteCommand(ctx, &protocol.ExecuteCommandParams{Command: c.Command, Arguments: c.Arguments})
			ok("ExecuteCommandProvider", err)
		}
	}
	actions, err := e.Server.CodeAction(ctx, &protocol.CodeActionParams{TextDocument: editor.Doc(u), Range: all, Context: protocol.CodeActionContext{Diagnostics: []protocol.Diagnostic{}}})
	ok("CodeActionProvider", err)
	for _, a := range actions {
		a := a.(*protocol.CodeAction)
		if len(a.Data) > 0 && a.Disabled.Reason == "" {
			_, err = e.Server.CodeActionResolve(ctx, a)
			ok("CodeActionProvider", err)
			run(protocol.Command{Command: show.CommandFix, Arguments: []protocol.LSPAny{a.Data}})
		}
		run(a.Command)
	}
	arg, _ := json.Marshal(show.FrameArguments{URI: u, Frame: 1040})
	run(protocol.Command{Command: show.CommandFrame, Arguments: []protocol.LSPAny{arg}})
	run(protocol.Command{Command: show.CommandCompare, Arguments: []protocol.LSPAny{arg}})
	for _, name := range e.Result.Capabilities.ExecuteCommandProvider.Commands {
		if !executed[name] {
			e.T.Errorf("the command %s was announced but never offered", name)
		}
	}
}

// announced asserts that all capabilities announced were used.
func announced(t *testing.T, c protocol.ServerCapabilities, used map[string]bool) {
	t.Helper()
	v := reflect.ValueOf(c)
	for i := range v.NumField() {
		if name := v.Type().Field(i).Name; !v.Field(i).IsZero() && !used[name] {
			t.Errorf("%s is announced but was not tried", name)
		}
	}
}
