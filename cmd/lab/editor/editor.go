package server

import (
	"context"
	"fmt"
	"io"
	"net"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"testing"
	"time"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"curvelint/diagnostics"
)

func TestMain(m *testing.M) {
	diagnostics.PanicOnBugs(true)
	os.Exit(m.Run())
}

// editor is a client in memory: it keeps its own texts, and what the server
// told it.
type editor struct {
	t      testing.TB
	server protocol.Server
	inside *Server // what it talks to
	tape   *recorder
	conn   jsonrpc2.Conn
	result *protocol.InitializeResult
	status chan int

	mu            sync.Mutex
	published     map[uri.URI]*protocol.PublishDiagnosticsParams
	heard         int // messages of any kind
	refreshed     int
	lensRefreshes int
	messages      []string
	shown         []uri.URI
	progress      []protocol.ProgressParams
	tokens        []protocol.ProgressToken // of work that no request asked for
	registers     []protocol.Registration
	config        string // answer to workspace/configuration
	wake          chan struct{}
}

// clientSide is what the server may call.
type clientSide struct {
	protocol.UnimplementedClient
	e *editor
}

// start runs a server in memory and shakes hands with it. Tune may change what
// the client says of itself.
func start(t testing.TB, tune func(*protocol.InitializeParams)) *editor {
	t.Helper()
	return begin(t, nil, tune)
}

// startRecorded is start with all messages of the server's kept.
func startRecorded(t testing.TB, tune func(*protocol.InitializeParams)) *editor {
	t.Helper()
	return begin(t, &recorder{methods: map[jsonrpc2.ID]string{}}, tune)
}

func begin(t testing.TB, tape *recorder, tune func(*protocol.InitializeParams)) *editor {
	t.Helper()
	near, far := net.Pipe()
	e := &editor{t: t, tape: tape, published: map[uri.URI]*protocol.PublishDiagnosticsParams{}, status: make(chan int, 1), wake: make(chan struct{}, 1)}
	var serverConn jsonrpc2.Conn
	e.inside, serverConn = connect(context.Background(), far, Options{Version: "test", settle: 300 * time.Millisecond, slow: 2 * time.Millisecond})
	go func() { e.status <- e.inside.finish(context.Background(), serverConn); far.Close() }()
	e.connect(near)
	t.Cleanup(e.stop)
	p := &protocol.InitializeParams{Capabilities: capable()}
	if tune != nil {
		tune(p)
	}
	var err error
	if e.result, err = e.server.Initialize(t.Context(), p); err != nil {
		t.Fatal(err)
	}
	if err := e.server.Initialized(t.Context(), &protocol.InitializedParams{}); err != nil {
		t.Fatal(err)
	}
	return e
}

func (e *editor) connect(conn io.ReadWriteCloser) {
	// The library's own stream lets decoded strings point into its buffer.
	var wire jsonrpc2.Stream = newStream(conn)
	if e.tape != nil {
		e.tape.Stream = wire
		wire = e.tape
	}
	e.conn = jsonrpc2.NewConn(wire, jsonrpc2.WithCodec(codec{}))
	e.conn.Go(context.Background(), protocol.Handlers(protocol.ClientHandler(&clientSide{e: e}, jsonrpc2.MethodNotFoundHandler)))
	e.server = protocol.ServerDispatcher(e.conn)
}

// stop ends the session in the orderly way.
func (e *editor) stop() {
	ctx, cancel := context.WithTimeout(context.Background(), 5*time.Second)
	defer cancel()
	if e.server.Shutdown(ctx) != nil {
		return // the test has ended it
	}
	e.server.Exit(ctx)
	select {
	case code := <-e.status:
		if code != 0 {
			e.t.Errorf("exit status %d after shutdown, want 0", code)
		}
	case <-ctx.Done():
		e.t.Error("the server did not end at exit")
	}
}

// capable returns what an editor with all abilities but pulling says.
func capable() protocol.ClientCapabilities {
	diag := protocol.DiagnosticsCapabilities{
		RelatedInformation: new(true), CodeDescriptionSupport: new(true), DataSupport: new(true),
		TagSupport: protocol.ClientDiagnosticsTagOptions{ValueSet: []protocol.DiagnosticTag{protocol.DiagnosticTagUnnecessary}},
	}
	return protocol.ClientCapabilities{
		General: &protocol.GeneralClientCapabilities{PositionEncodings: []protocol.PositionEncodingKind{protocol.PositionEncodingKindUTF8, protocol.PositionEncodingKindUTF16}},
		TextDocument: &protocol.TextDocumentClientCapabilities{
			PublishDiagnostics: &protocol.PublishDiagnosticsClientCapabilities{DiagnosticsCapabilities: diag, VersionSupport: new(true)},
			Hover:              &protocol.HoverClientCapabilities{ContentFormat: []protocol.MarkupKind{protocol.MarkupKindMarkdown}},
			DocumentSymbol:     &protocol.DocumentSymbolClientCapabilities{HierarchicalDocumentSymbolSupport: new(true)},
		},
		Workspace: &protocol.WorkspaceClientCapabilities{
			DidChangeWatchedFiles: &protocol.DidChangeWatchedFilesClientCapabilities{DynamicRegistration: new(true)},
			WorkspaceFolders:      new(true),
		},
	}
}

// inFolder opens a folder at the start.
func inFolder(dir string) func(*protocol.InitializeParams) {
	return func(p *protocol.InitializeParams) {
		p.WorkspaceFolders = protocol.NewNullable([]protocol.WorkspaceFolder{{URI: uri.File(dir), Name: "shot"}})
	}
}

func (c *clientSide) PublishDiagnostics(_ context.Context, p *protocol.PublishDiagnosticsParams) error {
	// The library handles messages side by side, so that an older one may come
	// last: it is not the server's word.
	c.e.note(func() {
		if before := c.e.published[p.URI]; before != nil {
			old, _ := before.Version.Get()
			if now, ok := p.Version.Get(); ok && now < old {
				return
			}
		}
		c.e.published[p.URI] = p
	})
	return nil
}

func (c *clientSide) RegisterCapability(_ context.Context, p *protocol.RegistrationParams) error {
	c.e.note(func() { c.e.registers = append(c.e.registers, p.Registrations...) })
	return nil
}

func (c *clientSide) ShowMessage(_ context.Context, p *protocol.ShowMessageParams) error {
	c.e.note(func() { c.e.messages = append(c.e.messages, p.Message) })
	return nil
}

func (c *clientSide) ShowDocument(_ context.Context, p *protocol.ShowDocumentParams) (*protocol.ShowDocumentResult, error) {
	c.e.note(func() { c.e.shown = append(c.e.shown, p.URI) })
	return &protocol.ShowDocumentResult{Success: true}, nil
}

func (c *clientSide) ApplyEdit(context.Context, *protocol.ApplyWorkspaceEditParams) (*protocol.ApplyWorkspaceEditResult, error) {
	return &protocol.ApplyWorkspaceEditResult{Applied: true}, nil
}

func (c *clientSide) WorkDoneProgressCreate(_ context.Context, p *protocol.WorkDoneProgressCreateParams) error {
	c.e.note(func() { c.e.tokens = append(c.e.tokens, p.Token) })
	return nil
}

func (c *clientSide) Progress(_ context.Context, p *protocol.ProgressParams) error {
	c.e.note(func() { c.e.progress = append(c.e.progress, *p) })
	return nil
}

func (c *clientSide) LogMessage(context.Context, *protocol.LogMessageParams) error { return nil }

func (c *clientSide) DiagnosticRefresh(context.Context) error {
	c.e.note(func() { c.e.refreshed++ })
	return nil
}

func (c *clientSide) InlayHintRefresh(context.Context) error { return nil }
func (c *clientSide) CodeLensRefresh(context.Context) error {
	c.e.note(func() { c.e.lensRefreshes++ })
	return nil
}
func (c *clientSide) SemanticTokensRefresh(context.Context) error { return nil }

func (c *clientSide) Configuration(context.Context, *protocol.ConfigurationParams) ([]protocol.LSPAny, error) {
	c.e.mu.Lock()
	defer c.e.mu.Unlock()
	if c.e.config == "" {
		return []protocol.LSPAny{protocol.LSPAny("null")}, nil
	}
	return []protocol.LSPAny{protocol.LSPAny(c.e.config)}, nil
}

func (e *editor) note(f func()) {
	e.mu.Lock()
	f()
	e.heard++
	e.mu.Unlock()
	select {
	case e.wake <- struct{}{}:
	default:
	}
}

// await waits until ok holds, looking after each message of the server's.
func (e *editor) await(what string, ok func() bool) {
	e.t.Helper()
	deadline := time.After(20 * time.Second)
	for {
		e.mu.Lock()
		done := ok()
		e.mu.Unlock()
		if done {
			return
		}
		select {
		case <-e.wake:
		case <-time.After(50 * time.Millisecond):
		case <-deadline:
			e.mu.Lock()
			defer e.mu.Unlock()
			for u, p := range e.published {
				e.t.Logf("%s: %v", u, brief(p.Diagnostics))
			}
			e.t.Fatalf("waited in vain for %s", what)
		}
	}
}

// open opens a text.
func (e *editor) open(u uri.URI, text string) {
	e.t.Helper()
	if err := e.server.DidOpen(e.t.Context(), &protocol.DidOpenTextDocumentParams{
		TextDocument: protocol.TextDocumentItem{URI: u, LanguageID: "usda", Version: 1, Text: text}}); err != nil {
		e.t.Fatal(err)
	}
}

// replace sends one edit.
func (e *editor) replace(u uri.URI, version int32, r protocol.Range, text string) {
	e.t.Helper()
	e.change(u, version, &protocol.TextDocumentContentChangePartial{Range: r, Text: text})
}

func (e *editor) change(u uri.URI, version int32, changes ...protocol.TextDocumentContentChangeEvent) {
	e.t.Helper()
	if err := e.server.DidChange(e.t.Context(), &protocol.DidChangeTextDocumentParams{
		TextDocument:   protocol.VersionedTextDocumentIdentifier{TextDocumentIdentifier: protocol.TextDocumentIdentifier{URI: u}, Version: version},
		ContentChanges: changes}); err != nil {
		e.t.Fatal(err)
	}
}

// notes waits for notes on a version of a text.
func (e *editor) notes(u uri.URI, version int32) []protocol.Diagnostic {
	e.t.Helper()
	e.await("notes on "+string(u), func() bool {
		p := e.published[u]
		if p == nil {
			return false
		}
		v, ok := p.Version.Get()
		return ok && v == version
	})
	e.mu.Lock()
	defer e.mu.Unlock()
	return e.published[u].Diagnostics
}

// watched tells of files that changed on disk.
func (e *editor) watched(paths ...string) {
	e.t.Helper()
	p := &protocol.DidChangeWatchedFilesParams{}
	for _, path := range paths {
		p.Changes = append(p.Changes, protocol.FileEvent{URI: uri.File(path), Type: protocol.FileChangeTypeChanged})
	}
	if err := e.server.DidChangeWatchedFiles(e.t.Context(), p); err != nil {
		e.t.Fatal(err)
	}
}

// brief returns the checks and lines (from 1) of diagnostics.
func brief(list []protocol.Diagnostic) []string {
	out := []string{}
	for i := range list {
		out = append(out, codeOf(&list[i])+fmt.Sprintf(" %d", list[i].Range.Start.Line+1))
	}
	return out
}

// demo returns the path of a shot of the demo, and its text.
func demo(t testing.TB, name string) (path, text string) {
	t.Helper()
	path, err := filepath.Abs(filepath.Join("..", "testdata", "demo", name))
	if err != nil {
		t.Fatal(err)
	}
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return path, string(b)
}

func at(line, column int) protocol.Position {
	return protocol.Position{Line: uint32(line), Character: uint32(column)}
}

func span(l1, c1, l2, c2 int) protocol.Range {
	return protocol.Range{Start: at(l1, c1), End: at(l2, c2)}
}

func doc(u uri.URI) protocol.TextDocumentIdentifier { return protocol.TextDocumentIdentifier{URI: u} }

func hasCode(list []protocol.Diagnostic, code string) bool {
	return slices.ContainsFunc(list, func(d protocol.Diagnostic) bool { return codeOf(&d) == code })
}
