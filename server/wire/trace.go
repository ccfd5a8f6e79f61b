package wire

import (
	"context"
	"fmt"
	"io"
	"sync"
	"time"

	"go.lsp.dev/jsonrpc2"
)

// Trace returns a stream that does what s does and writes every message to a log,
// one line each.
func Trace(s jsonrpc2.Stream, log io.Writer) jsonrpc2.Stream { return &traced{Stream: s, log: log} }

// traced is a stream that writes every message to a log, one line each.
type traced struct {
	jsonrpc2.Stream
	mu  sync.Mutex
	log io.Writer
}

// Read implements jsonrpc2.Stream.
func (t *traced) Read(ctx context.Context) (jsonrpc2.Message, int64, error) {
	m, n, err := t.Stream.Read(ctx)
	if err == nil {
		t.line("<-", m)
	}
	return m, n, err
}

// Write implements jsonrpc2.Stream.
func (t *traced) Write(ctx context.Context, m jsonrpc2.Message) (int64, error) {
	t.line("->", m)
	return t.Stream.Write(ctx, m)
}

// maxTraced bounds a line of the log.
const maxTraced = 4 << 10

func (t *traced) line(arrow string, m jsonrpc2.Message) {
	b := jsonrpc2.AppendMessage(nil, m)
	more := ""
	if len(b) > maxTraced {
		more = fmt.Sprintf("... (%d bytes)", len(b))
		b = b[:maxTraced]
	}
	t.mu.Lock()
	defer t.mu.Unlock()
	fmt.Fprintf(t.log, "%s %s %s%s\n", time.Now().Format("15:04:05.000"), arrow, b, more)
}
