package server

import (
	"context"
	"encoding/json"
	"errors"
	"reflect"
	"slices"
	"strings"
	"sync"
	"testing"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"
)

// recorder is a stream that keeps what it reads, with the methods of the calls
// it wrote.
type recorder struct {
	jsonrpc2.Stream
	mu      sync.Mutex
	methods map[jsonrpc2.ID]string
	got     []recorded
}

// recorded is one message of the server's: the result of a method, or a
// notification or request of its own.
type recorded struct {
	method string
	result bool
	failed bool
	code   jsonrpc2.Code
	body   []byte
}

func (r *recorder) Write(ctx context.Context, m jsonrpc2.Message) (int64, error) {
	var wire struct {
		ID     *int64
		Method string
	}
	if err := json.Unmarshal(jsonrpc2.AppendMessage(nil, m), &wire); err == nil && wire.ID != nil && wire.Method != "" {
		r.mu.Lock()
		r.methods[jsonrpc2.NewNumberID(*wire.ID)] = wire.Method
		r.mu.Unlock()
	}
	return r.Stream.Write(ctx, m)
}

func (r *recorder) Read(ctx context.Context) (jsonrpc2.Message, int64, error) {
	m, n, err := r.Stream.Read(ctx)
	r.mu.Lock()
	defer r.mu.Unlock()
	switch m := m.(type) {
	case *jsonrpc2.Response:
		got := recorded{method: r.methods[m.ID()], result: true, failed: m.Err() != nil, body: slices.Clone(m.Result())}
		var fault *jsonrpc2.Error
		if errors.As(m.Err(), &fault) {
			got.code = fault.Code
		}
		r.got = append(r.got, got)
	case jsonrpc2.RequestMessage:
		r.got = append(r.got, recorded{method: strings.Clone(m.Method()), body: slices.Clone(m.Params())})
	}
	return m, n, err
}

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

// everything makes a client that can do all there is.
func everything(p *protocol.InitializeParams) {
	withTokens(p)
	fixing(p)
	w := p.Capabilities.Workspace
	w.Configuration, w.ApplyEdit = new(true), new(true)
	w.DidChangeConfiguration = &protocol.DidChangeConfigurationClientCapabilities{DynamicRegistration: new(true)}
	w.TextDocumentContent = &protocol.TextDocumentContentClientCapabilities{}
	w.InlayHint = &protocol.InlayHintWorkspaceClientCapabilities{RefreshSupport: new(true)}
	w.CodeLens = &protocol.CodeLensWorkspaceClientCapabilities{RefreshSupport: new(true)}
	w.SemanticTokens = &protocol.SemanticTokensWorkspaceClientCapabilities{RefreshSupport: new(true)}
	p.Capabilities.Window = &protocol.WindowClientCapabilities{WorkDoneProgress: new(true), ShowDocument: &protocol.ShowDocumentClientCapabilities{Support: true}}
}

// TestEverythingAnswers records whole sessions, with notes pushed and pulled,
// in which every capability that is announced is used. All messages of the
// server's have the protocol's shapes, and no request fails.
func TestEverythingAnswers(t *testing.T) {
	for _, pulled := range []bool{false, true} {
		dir := ferry(t)
		_, content := demo(t, "deckhand_spline.usda")
		_, polish := demo(t, "deckhand_polish.usda")
		// Which one came first does not matter here; this one has notes.
		write(t, dir, "shot_spline.usda", polish)
		u := uri.File(write(t, dir, "shot_polish.usda", content))
		e := startRecorded(t, func(p *protocol.InitializeParams) {
			everything(p)
			inFolder(dir)(p)
			if pulled {
				pulling(dir)(p)
			}
		})
		e.open(u, content)
		used := e.useAll(u, content)
		announced(t, e.result.Capabilities, used)
		e.stop()
		e.tape.mu.Lock()
		for _, m := range e.tape.got {
			m.check(t)
		}
		if len(e.tape.got) < 20 {
			t.Errorf("%d messages recorded", len(e.tape.got))
		}
		e.tape.mu.Unlock()
	}
}

func (m *recorded) check(t *testing.T) {
	t.Helper()
	decode := shapes[m.method]
	if decode == nil {
		t.Errorf("unexpected %s: %.200s", m.method, m.body)
		return
	}
	if m.failed {
		t.Errorf("%s failed", m.method)
		return
	}
	if len(m.body) == 0 {
		return
	}
	again, err := decode(m.body)
	if err != nil {
		t.Errorf("%s: %v in %.200s", m.method, err, m.body)
		return
	}
	var a, b any
	if json.Unmarshal(m.body, &a) != nil || json.Unmarshal(again, &b) != nil || !reflect.DeepEqual(a, b) {
		t.Errorf("%s is not of the protocol's shape:\n%.300s\n%.300s", m.method, m.body, again)
	}
}

// useAll makes every kind of request on an open scene and returns the
// capabilities used, by the names of their fields.
func (e *editor) useAll(u uri.URI, content string) map[string]bool {
	e.t.Helper()
	ctx := e.t.Context()
	key := lineWith(e.t.(*testing.T), content, `def Xform "head"`, "1040:")
	at := protocol.TextDocumentPositionParams{TextDocument: doc(u), Position: at(key, 46)}
	all := span(0, 0, strings.Count(content, "\n"), 0)
	used := map[string]bool{"PositionEncoding": true, "TextDocumentSync": true, "Workspace": true}
	ok := func(field string, err error) {
		e.t.Helper()
		used[field] = true
		if err != nil {
			e.t.Errorf("%s: %v", field, err)
		}
	}
	_, err := e.server.Hover(ctx, &protocol.HoverParams{TextDocumentPositionParams: at})
	ok("HoverProvider", err)
	_, err = e.server.DocumentSymbol(ctx, &protocol.DocumentSymbolParams{TextDocument: doc(u)})
	ok("DocumentSymbolProvider", err)
	_, err = e.server.Symbols(ctx, &protocol.WorkspaceSymbolParams{Query: "1040"})
	ok("WorkspaceSymbolProvider", err)
	_, err = e.server.FoldingRanges(ctx, &protocol.FoldingRangeParams{TextDocument: doc(u)})
	ok("FoldingRangeProvider", err)
	_, err = e.server.SelectionRange(ctx, &protocol.SelectionRangeParams{TextDocument: doc(u), Positions: []protocol.Position{at.Position}})
	ok("SelectionRangeProvider", err)
	_, err = e.server.Definition(ctx, &protocol.DefinitionParams{TextDocumentPositionParams: at})
	ok("DefinitionProvider", err)
	_, err = e.server.References(ctx, &protocol.ReferenceParams{TextDocumentPositionParams: at})
	ok("ReferencesProvider", err)
	_, err = e.server.DocumentHighlight(ctx, &protocol.DocumentHighlightParams{TextDocumentPositionParams: at})
	ok("DocumentHighlightProvider", err)
	lenses, err := e.server.CodeLens(ctx, &protocol.CodeLensParams{TextDocument: doc(u)})
	ok("CodeLensProvider", err)
	for i := range lenses {
		if len(lenses[i].Data) > 0 {
			_, err = e.server.CodeLensResolve(ctx, &lenses[i])
			ok("CodeLensProvider", err)
		}
	}
	_, err = e.server.InlayHint(ctx, &protocol.InlayHintParams{TextDocument: doc(u), Range: all})
	ok("InlayHintProvider", err)
	_, err = e.server.SemanticTokensFull(ctx, &protocol.SemanticTokensParams{TextDocument: doc(u)})
	ok("SemanticTokensProvider", err)
	_, err = e.server.SemanticTokensRange(ctx, &protocol.SemanticTokensRangeParams{TextDocument: doc(u), Range: all})
	ok("SemanticTokensProvider", err)
	for _, address := range []uri.URI{docURI("pop"), comparisonURI(u)} {
		_, err = e.server.TextDocumentContent(ctx, &protocol.TextDocumentContentParams{URI: address})
		ok("Workspace", err)
	}
	e.useActions(u, all, ok)
	if e.result.Capabilities.DiagnosticProvider != nil {
		_, err = e.server.Diagnostic(ctx, &protocol.DocumentDiagnosticParams{TextDocument: doc(u)})
		ok("DiagnosticProvider", err)
		_, err = e.server.DiagnosticWorkspace(ctx, &protocol.WorkspaceDiagnosticParams{PreviousResultIds: []protocol.PreviousResultId{}})
		ok("DiagnosticProvider", err)
	} else {
		e.settled(u, 1)
	}
	return used
}

// useActions resolves every action in a range and executes every command.
func (e *editor) useActions(u uri.URI, all protocol.Range, ok func(string, error)) {
	e.t.Helper()
	ctx := e.t.Context()
	executed := map[string]bool{}
	run := func(c protocol.Command) {
		if c.Command != "" && !executed[c.Command] {
			executed[c.Command] = true
			_, err := e.server.ExecuteCommand(ctx, &protocol.ExecuteCommandParams{Command: c.Command, Arguments: c.Arguments})
			ok("ExecuteCommandProvider", err)
		}
	}
	actions, err := e.server.CodeAction(ctx, &protocol.CodeActionParams{TextDocument: doc(u), Range: all, Context: protocol.CodeActionContext{Diagnostics: []protocol.Diagnostic{}}})
	ok("CodeActionProvider", err)
	for _, a := range actions {
		a := a.(*protocol.CodeAction)
		if len(a.Data) > 0 && a.Disabled.Reason == "" {
			_, err = e.server.CodeActionResolve(ctx, a)
			ok("CodeActionProvider", err)
			run(protocol.Command{Command: commandFix, Arguments: []protocol.LSPAny{a.Data}})
		}
		run(a.Command)
	}
	arg, _ := json.Marshal(frameArguments{URI: u, Frame: 1040})
	run(protocol.Command{Command: commandFrame, Arguments: []protocol.LSPAny{arg}})
	run(protocol.Command{Command: commandCompare, Arguments: []protocol.LSPAny{arg}})
	for _, name := range e.result.Capabilities.ExecuteCommandProvider.Commands {
		if !executed[name] {
			e.t.Errorf("the command %s was announced but never offered", name)
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
