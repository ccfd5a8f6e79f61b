package editor

import (
	"context"
	"encoding/json"
	"errors"
	"slices"
	"strings"
	"sync"

	"go.lsp.dev/jsonrpc2"
)

// Recorder is a stream that keeps what it reads, with the methods of the calls
// it wrote.
type Recorder struct {
	jsonrpc2.Stream
	mu      sync.Mutex // guards what follows
	methods map[jsonrpc2.ID]string
	got     []Recorded
}

// Recorded is one message of the server's: the result of a method, or a
// notification or request of its own.
type Recorded struct {
	Method string
	Result bool          // it answers a call
	Failed bool          // by an error
	Code   jsonrpc2.Code // of that
	Body   []byte
}

// Got returns the messages so far.
func (r *Recorder) Got() []Recorded {
	r.mu.Lock()
	defer r.mu.Unlock()
	return slices.Clone(r.got)
}

// Write implements jsonrpc2.Stream.
func (r *Recorder) Write(ctx context.Context, m jsonrpc2.Message) (int64, error) {
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

// Read implements jsonrpc2.Stream.
func (r *Recorder) Read(ctx context.Context) (jsonrpc2.Message, int64, error) {
	m, n, err := r.Stream.Read(ctx)
	r.mu.Lock()
	defer r.mu.Unlock()
	switch m := m.(type) {
	case *jsonrpc2.Response:
		got := Recorded{Method: r.methods[m.ID()], Result: true, Failed: m.Err() != nil, Body: slices.Clone(m.Result())}
		var fault *jsonrpc2.Error
		if errors.As(m.Err(), &fault) {
			got.Code = fault.Code
		}
		r.got = append(r.got, got)
	case jsonrpc2.RequestMessage:
		r.got = append(r.got, Recorded{Method: strings.Clone(m.Method()), Body: slices.Clone(m.Params())})
	}
	return m, n, err
}
