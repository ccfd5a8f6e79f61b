package server

import (
	"context"
	"sync"

	"go.lsp.dev/uri"
)

// tasks are the judgements under way, one for each file: a newer one ends the
// older one.
type tasks struct {
	mu     sync.Mutex
	cancel map[uri.URI]*context.CancelFunc
}

// begin returns a context that ends when the next task for the same file
// begins, and a function to call at the end of the task.
func (t *tasks) begin(ctx context.Context, u uri.URI) (context.Context, func()) {
	ctx, cancel := context.WithCancel(ctx)
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.cancel == nil {
		t.cancel = map[uri.URI]*context.CancelFunc{}
	}
	if older := t.cancel[u]; older != nil {
		(*older)()
	}
	mine := &cancel
	t.cancel[u] = mine
	return ctx, func() {
		cancel()
		t.mu.Lock()
		defer t.mu.Unlock()
		if t.cancel[u] == mine {
			delete(t.cancel, u)
		}
	}
}

// end ends the task for a file, if there is one.
func (t *tasks) end(u uri.URI) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if older := t.cancel[u]; older != nil {
		(*older)()
		delete(t.cancel, u)
	}
}
