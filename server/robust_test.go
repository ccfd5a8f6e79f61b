package server_test

import (
	"bufio"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"math/rand/v2"
	"net"
	"net/textproto"
	"runtime"
	"strconv"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"curvelint/cmd/lab/editor"
	"curvelint/server"
)

// rawClient writes bytes and counts the messages that come back.
type rawClient struct {
	conn    net.Conn
	answers atomic.Int64
	ids     chan string // ids of the answers, as written
}

func dial(t *testing.T) (*rawClient, chan int) {
	t.Helper()
	near, far := net.Pipe()
	status := make(chan int, 1)
	go func() { status <- server.Serve(context.Background(), far, server.Options{}); far.Close() }()
	c := &rawClient{conn: near, ids: make(chan string, 1<<16)}
	go c.read()
	return c, status
}

func (c *rawClient) read() {
	r := bufio.NewReader(c.conn)
	for {
		h, err := textproto.NewReader(r).ReadMIMEHeader()
		if err != nil {
			return
		}
		n, _ := strconv.Atoi(h.Get("Content-Length"))
		b := make([]byte, n)
		if _, err := io.ReadFull(r, b); err != nil {
			return
		}
		var m struct{ ID json.RawMessage }
		if json.Unmarshal(b, &m) == nil && m.ID != nil {
			c.answers.Add(1)
			c.ids <- string(m.ID)
		}
	}
}

func (c *rawClient) send(t *testing.T, body string) {
	t.Helper()
	c.conn.SetWriteDeadline(time.Now().Add(20 * time.Second))
	if _, err := fmt.Fprintf(c.conn, "Content-Length: %d\r\n\r\n%s", len(body), body); err != nil {
		t.Fatalf("the server does not read any more: %v", err)
	}
}

// answered waits for the answer to an id.
func (c *rawClient) answered(t *testing.T, id string) {
	t.Helper()
	deadline := time.After(20 * time.Second)
	for {
		select {
		case got := <-c.ids:
			if got == id {
				return
			}
		case <-deadline:
			t.Fatalf("no answer to %s", id)
		}
	}
}

const sayHello = `{"jsonrpc":"2.0","id":"hello","method":"initialize","params":{"processId":null,"rootUri":null,"capabilities":{}}}`

// methods are real ones and such as nobody knows.
var methods = []string{
	"initialize", "initialized", "textDocument/didOpen", "textDocument/didChange", "textDocument/didClose", "textDocument/didSave",
	"textDocument/hover", "textDocument/documentSymbol", "workspace/symbol", "textDocument/codeAction", "codeAction/resolve",
	"textDocument/codeLens", "codeLens/resolve", "textDocument/inlayHint", "textDocument/semanticTokens/full",
	"textDocument/semanticTokens/range", "textDocument/foldingRange", "textDocument/selectionRange", "textDocument/definition",
	"textDocument/references", "textDocument/diagnostic", "workspace/diagnostic", "workspace/executeCommand",
	"workspace/didChangeWatchedFiles", "workspace/didChangeConfiguration", "workspace/didChangeWorkspaceFolders",
	"workspace/textDocumentContent", "$/cancelRequest", "$/setTrace", "$/nobody", "nobody/knows", "window/workDoneProgress/cancel", "",
}

// fragments are values of the right and of wrong types.
var fragments = []string{
	`null`, `true`, `0`, `-1`, `4294967295`, `1e308`, `"x"`, `[]`, `{}`, `[[[[]]]]`, `"\ud800"`,
	`{"textDocument":{"uri":"file:///tug/a.usda"},"position":{"line":1,"character":2}}`,
	`{"textDocument":{"uri":"file:///tug/a.usda"},"position":{"line":4294967295,"character":4294967295}}`,
	`{"textDocument":{"uri":"file:///tug/a.usda"},"position":{"line":-1,"character":"a"}}`,
	`{"textDocument":{"uri":"file:///tug/a.usda"},"range":{"start":{"line":9,"character":9},"end":{"line":0,"character":0}},"context":{"diagnostics":[]}}`,
	`{"textDocument":{"uri":"file:///tug/a.usda","version":7,"languageId":"usda","text":"#usda 1.0\ndef Xform \"a\" {\n"}}`,
	`{"textDocument":{"uri":"file:///tug/a.usda","version":8},"contentChanges":[{"range":{"start":{"line":1,"character":900},"end":{"line":70,"character":1}},"text":"\u0000}"}]}`,
	`{"textDocument":{"uri":"file:///tug/a.usda","version":9},"contentChanges":[{"range":null,"text":"HIERARCHY"}]}`,
	`{"textDocument":{"uri":"file:///tug/closed.usda","version":9},"contentChanges":[{"text":"x"}]}`,
	`{"textDocument":{"uri":"%%%"}}`, `{"textDocument":{"uri":""},"positions":[{"line":3,"character":1}]}`,
	`{"textDocument":{"uri":"untitled:1","version":1,"languageId":"bvh","text":"HIERARCHY\nROOT a\n{\nOFFSET 0 0 0\nCHANNELS 1 Xrotation\n}\nMOTION\nFrames: 99999999\nFrame Time: 0.04\n1\n"}}`,
	`{"id":"hello"}`, `{"id":{}}`, `{"query":"\u0000"}`, `{"query":"1e400"}`, `{"command":"curvelint.goToFrame","arguments":[7]}`,
	`{"command":"curvelint.fix","arguments":[{"uri":"file:///tug/a.usda","version":7,"note":{},"fix":"ease"}]}`,
	`{"settings":{"curvelint":{"settings":{"fps":[],"checks":7}}}}`, `{"changes":[{"uri":"file:///tug/a.usda","type":9}]}`,
	`{"event":{"added":[{"uri":"file:///nowhere","name":""}],"removed":[]}}`, `{"data":{"uri":"file:///tug/a.usda","part":99999}}`,
	`{"uri":"curvelint:/explain/nothing.md"}`, `{"range":{}}`, `{"previousResultIds":null}`,
}

// randomMessage returns the body of a message that is wrong in some way, or
// right by chance.
func randomMessage(r *rand.Rand) string {
	ids := []string{`1`, `"a"`, `-9223372036854775808`, `99999999999999999999999`, `1.5`, `null`, `{}`, `""`}
	body := fmt.Sprintf(`{"jsonrpc":"2.0","method":%q,"params":%s`, methods[r.IntN(len(methods))], fragments[r.IntN(len(fragments))])
	if r.IntN(2) == 0 {
		body += `,"id":` + ids[r.IntN(len(ids))]
	}
	body += "}"
	switch r.IntN(12) {
	case 0: // cut
		body = body[:1+r.IntN(len(body)-1)]
	case 1: // one byte changed
		b := []byte(body)
		b[r.IntN(len(b))] = byte(r.IntN(256))
		body = string(b)
	case 2:
		body = "[" + body + "]"
	case 3:
		body = strings.Replace(body, `"2.0"`, `"1.0"`, 1)
	case 4:
		body = strings.Repeat("[", 1+r.IntN(3000))
	}
	return body
}

// TestMalformedMessages: ten thousand random and malformed messages neither
// end the server nor leave goroutines behind, and it answers as before.
func TestMalformedMessages(t *testing.T) {
	before := runtime.NumGoroutine()
	c, status := dial(t)
	r := rand.New(rand.NewPCG(6, 7))
	for i := range 10000 {
		if i == 500 { // what came before was too early
			c.send(t, sayHello)
			c.answered(t, `"hello"`)
		}
		m := randomMessage(r)
		if strings.Contains(m, `"shutdown"`) || strings.Contains(m, `"exit"`) {
			continue
		}
		c.send(t, m)
	}
	c.send(t, `{"jsonrpc":"2.0","id":"still there","method":"workspace/symbol","params":{"query":"x"}}`)
	c.answered(t, `"still there"`)
	if n := c.answers.Load(); n < 4000 {
		t.Errorf("%d answers to about 5000 calls", n)
	}
	c.send(t, `{"jsonrpc":"2.0","id":"bye","method":"shutdown"}`)
	c.answered(t, `"bye"`)
	c.send(t, `{"jsonrpc":"2.0","method":"exit"}`)
	if code := <-status; code != 0 {
		t.Errorf("exit status %d", code)
	}
	c.conn.Close()
	settle(t, before)
}

// settle waits until no more goroutines run than before.
func settle(t *testing.T, before int) {
	t.Helper()
	for range 100 {
		if runtime.NumGoroutine() <= before {
			return
		}
		time.Sleep(20 * time.Millisecond)
	}
	buf := make([]byte, 1<<20)
	t.Errorf("%d goroutines, %d before:\n%s", runtime.NumGoroutine(), before, buf[:runtime.Stack(buf, true)])
}

// TestBrokenFraming: headers that are none are passed over.
func TestBrokenFraming(t *testing.T) {
	c, status := dial(t)
	for _, junk := range []string{
		"hello\r\n\r\n", "Content-Length: nine\r\n\r\n", "Content-Length: -4\r\n\r\n", "Content-Length: 99999999999999\r\n\r\n",
		"X: " + strings.Repeat("y", 100000) + "\r\n\r\n", "\r\n\r\n\n\n",
	} {
		if _, err := io.WriteString(c.conn, junk); err != nil {
			t.Fatal(err)
		}
	}
	c.send(t, sayHello)
	c.answered(t, `"hello"`)
	// A length that is only claimed takes no memory.
	io.WriteString(c.conn, "Content-Length: 2000000000\r\n\r\n{")
	var m runtime.MemStats
	time.Sleep(50 * time.Millisecond)
	runtime.ReadMemStats(&m)
	if m.HeapAlloc > 1<<29 {
		t.Errorf("%d MB for a message that only claims to be long", m.HeapAlloc>>20)
	}
	c.conn.Close()
	if code := <-status; code != 1 {
		t.Errorf("exit status %d after the connection broke, want 1", code)
	}
}

// TestTooEarlyAndTooLate: requests are refused with the protocol's codes.
func TestTooEarlyAndTooLate(t *testing.T) {
	e := editor.Start(t, nil)
	if err := e.Server.Shutdown(t.Context()); err != nil {
		t.Fatal(err)
	}
	if _, err := e.Server.Symbols(t.Context(), nil); err == nil || !strings.Contains(err.Error(), "exit") {
		t.Errorf("a request after shutdown: %v", err)
	}
	e.Server.Exit(t.Context())
	if code := <-e.Status; code != 0 {
		t.Errorf("exit status %d", code)
	}
}
