// Package editor is an editor in memory for tests of the server: it runs a session,
// keeps its own texts, and what the server told it.
package editor

import (
	"context"
	"io"
	"net"
	"sync"
	"testing"
	"time"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"curvelint/server"
	"curvelint/server/wire"
)

// Editor is a client in memory.
type Editor struct {
	T      testing.TB
	Server protocol.Server // what it asks, through the wire
	Inside *server.Server  // the same without the wire
	Tape   *Recorder       // all messages of the server's, or nil
	Result *protocol.InitializeResult
	Status chan int // the exit status, once

	Mu            sync.Mutex // guards what follows
	Published     map[uri.URI]*protocol.PublishDiagnosticsParams
	Refreshed     int // how often it was told to ask for notes again
	LensRefreshes int // and for lenses
	Messages      []string
	Shown         []uri.URI
	Progress      []protocol.ProgressParams
	Tokens        []protocol.ProgressToken // of work that no request asked for
	Registers     []protocol.Registration
	Config        string // what it answers to workspace/configuration

	wake chan struct{}
}

// Settle is how long the notes on a whole version of a file stay in sessions of
// tests.
const Settle = 300 * time.Millisecond

// Start runs a server in memory and shakes hands with it. Tune may change what
// the client says of itself. The session ends with the test.
func Start(t testing.TB, tune func(*protocol.InitializeParams)) *Editor {
	t.Helper()
	return begin(t, nil, tune)
}

// StartRecorded is Start with all messages of the server's kept.
func StartRecorded(t testing.TB, tune func(*protocol.InitializeParams)) *Editor {
	t.Helper()
	return begin(t, &Recorder{methods: map[jsonrpc2.ID]string{}}, tune)
}

func begin(t testing.TB, tape *Recorder, tune func(*protocol.InitializeParams)) *Editor {
	t.Helper()
	near, far := net.Pipe()
	e := &Editor{T: t, Tape: tape, Published: map[uri.URI]*protocol.PublishDiagnosticsParams{}, Status: make(chan int, 1), wake: make(chan struct{}, 1)}
	e.Inside = server.Connect(context.Background(), far, server.Options{Version: "test", Settle: Settle, Slow: 2 * time.Millisecond})
	go func() { e.Status <- e.Inside.Finish(context.Background()); far.Close() }()
	e.connect(near)
	t.Cleanup(e.Stop)
	p := &protocol.InitializeParams{Capabilities: Capable()}
	if tune != nil {
		tune(p)
	}
	var err error
	if e.Result, err = e.Server.Initialize(t.Context(), p); err != nil {
		t.Fatal(err)
	}
	if err := e.Server.Initialized(t.Context(), &protocol.InitializedParams{}); err != nil {
		t.Fatal(err)
	}
	return e
}

func (e *Editor) connect(conn io.ReadWriteCloser) {
	// The library's own stream lets decoded strings point into its buffer.
	var messages jsonrpc2.Stream = wire.NewStream(conn)
	if e.Tape != nil {
		e.Tape.Stream = messages
		messages = e.Tape
	}
	c := jsonrpc2.NewConn(messages, jsonrpc2.WithCodec(wire.Codec{}))
	c.Go(context.Background(), protocol.Handlers(protocol.ClientHandler(&clientSide{e: e}, jsonrpc2.MethodNotFoundHandler)))
	e.Server = protocol.ServerDispatcher(c)
}

// Stop ends the session in the orderly way.
func (e *Editor) Stop() {
	ctx, cancel := context.WithTimeout(context.Background(), 5*time.Second)
	defer cancel()
	if e.Server.Shutdown(ctx) != nil {
		return // the test has ended it
	}
	e.Server.Exit(ctx)
	select {
	case code := <-e.Status:
		if code != 0 {
			e.T.Errorf("exit status %d after shutdown, want 0", code)
		}
	case <-ctx.Done():
		e.T.Error("the server did not end at exit")
	}
}

// Note changes what the editor knows, and wakes who awaits something.
func (e *Editor) Note(f func()) {
	e.Mu.Lock()
	f()
	e.Mu.Unlock()
	select {
	case e.wake <- struct{}{}:
	default:
	}
}

// Await waits until ok holds, looking after each message of the server's.
func (e *Editor) Await(what string, ok func() bool) {
	e.T.Helper()
	deadline := time.After(20 * time.Second)
	for {
		e.Mu.Lock()
		done := ok()
		e.Mu.Unlock()
		if done {
			return
		}
		select {
		case <-e.wake:
		case <-time.After(50 * time.Millisecond):
		case <-deadline:
			e.Mu.Lock()
			defer e.Mu.Unlock()
			for u, p := range e.Published {
				e.T.Logf("%s: %v", u, Brief(p.Diagnostics))
			}
			e.T.Fatalf("waited in vain for %s", what)
		}
	}
}
