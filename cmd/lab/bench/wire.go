package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"net/textproto"
	"os/exec"
	"strconv"
	"sync"
	"time"
)

// patience is how long an answer may take before the run is given up.
const patience = 2 * time.Minute

// wire is a language server in a process of its own, spoken to over pipes.
type wire struct {
	process *exec.Cmd
	in      io.WriteCloser

	mu        sync.Mutex
	next      int
	answers   map[int]chan message
	published chan publication
	broken    chan struct{} // closed when nothing more comes
	errors    bytes.Buffer  // what it wrote to standard error; read it at the end
}

type message struct {
	ID     *json.RawMessage `json:"id"`
	Method string           `json:"method"`
	Params json.RawMessage  `json:"params"`
	Result json.RawMessage  `json:"result"`
	Error  json.RawMessage  `json:"error"`
	at     time.Time
}

// publication is the news that notes were published.
type publication struct {
	URI     string `json:"uri"`
	Version *int   `json:"version"`
	Items   []any  `json:"diagnostics"`
	at      time.Time
}

// speak starts a language server.
func speak(command string, args ...string) (*wire, error) {
	w := &wire{process: exec.Command(command, args...), answers: map[int]chan message{},
		published: make(chan publication, 1000), broken: make(chan struct{})}
	var err error
	if w.in, err = w.process.StdinPipe(); err != nil {
		return nil, err
	}
	out, err := w.process.StdoutPipe()
	if err != nil {
		return nil, err
	}
	w.process.Stderr = &w.errors
	if err := w.process.Start(); err != nil {
		return nil, err
	}
	go w.listen(out)
	return w, nil
}

// listen reads what the server says and answers what it asks.
func (w *wire) listen(out io.Reader) {
	defer close(w.broken)
	r := bufio.NewReaderSize(out, 1<<20)
	for {
		header, err := textproto.NewReader(r).ReadMIMEHeader()
		if err != nil {
			return
		}
		n, err := strconv.Atoi(header.Get("Content-Length"))
		if err != nil {
			return
		}
		body := make([]byte, n)
		if _, err := io.ReadFull(r, body); err != nil {
			return
		}
		at := time.Now()
		var m message
		if json.Unmarshal(body, &m) != nil {
			continue
		}
		m.at = at
		w.hear(m)
	}
}

func (w *wire) hear(m message) {
	switch {
	case m.Method == "textDocument/publishDiagnostics":
		p := publication{at: m.at}
		if json.Unmarshal(m.Params, &p) == nil {
			w.published <- p
		}
	case m.Method == "workspace/configuration":
		w.send(map[string]any{"jsonrpc": "2.0", "id": m.ID, "result": []any{nil}})
	case m.Method != "" && m.ID != nil:
		w.send(map[string]any{"jsonrpc": "2.0", "id": m.ID, "result": nil})
	case m.ID != nil:
		id, err := strconv.Atoi(string(*m.ID))
		if err != nil {
			return
		}
		w.mu.Lock()
		c := w.answers[id]
		delete(w.answers, id)
		w.mu.Unlock()
		if c != nil {
			c <- m
		}
	}
}

func (w *wire) send(m map[string]any) error {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(m); err != nil {
		return err
	}
	w.mu.Lock()
	defer w.mu.Unlock()
	if _, err := fmt.Fprintf(w.in, "Content-Length: %d\r\n\r\n", b.Len()); err != nil {
		return err
	}
	_, err := w.in.Write(b.Bytes())
	return err
}

// notify sends a notification.
func (w *wire) notify(method string, params any) error {
	return w.send(map[string]any{"jsonrpc": "2.0", "method": method, "params": params})
}

// call sends a request and waits for its answer.
func (w *wire) call(method string, params any) (json.RawMessage, error) {
	answer, _, err := w.timedCall(method, params)
	return answer, err
}

// timedCall is call, and says when the answer was there, as bytes: reading them
// is the client's affair.
func (w *wire) timedCall(method string, params any) (json.RawMessage, time.Time, error) {
	answer := make(chan message, 1)
	w.mu.Lock()
	w.next++
	id := w.next
	w.answers[id] = answer
	w.mu.Unlock()
	m := map[string]any{"jsonrpc": "2.0", "id": id, "method": method}
	if params != nil {
		m["params"] = params
	}
	if err := w.send(m); err != nil {
		return nil, time.Time{}, err
	}
	select {
	case a := <-answer:
		if a.Error != nil {
			return nil, time.Time{}, fmt.Errorf("%s: %s", method, a.Error)
		}
		return a.Result, a.at, nil
	case <-w.broken:
		return nil, time.Time{}, fmt.Errorf("%s: the server has ended", method)
	case <-time.After(patience):
		return nil, time.Time{}, fmt.Errorf("%s: no answer within %v", method, patience)
	}
}

// notes waits for notes on a version of a text; a server that does not say of
// which version its notes are is believed.
func (w *wire) notes(uri string, version int) (publication, error) {
	limit := time.After(patience)
	for {
		select {
		case p := <-w.published:
			if p.URI == uri && (p.Version == nil || *p.Version == version) {
				return p, nil
			}
		case <-w.broken:
			return publication{}, fmt.Errorf("no notes on %s: the server has ended", uri)
		case <-limit:
			return publication{}, fmt.Errorf("no notes on %s within %v", uri, patience)
		}
	}
}

// forget drops notes that came unasked.
func (w *wire) forget() {
	for {
		select {
		case <-w.published:
		default:
			return
		}
	}
}

// end ends the session in the orderly way and, if need be, in the other.
func (w *wire) end() {
	_, _ = w.call("shutdown", nil)
	_ = w.notify("exit", nil)
	w.in.Close()
	kill := time.AfterFunc(10*time.Second, func() { w.process.Process.Kill() })
	defer kill.Stop()
	_ = w.process.Wait() // some servers exit in their own way
}
