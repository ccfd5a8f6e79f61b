package wire

import (
	"context"
	"sync"
)

// tasks are the pieces of work under way that have a name: a newer one of a name
// ends the older one.
type tasks struct {
	mu     sync.Mutex
	cancel map[string]*context.CancelFunc
}

// begin returns a context that ends when the next task of the same name begins,
// and a function to call at the end of the task.
func (t *tasks) begin(ctx context.Context, name string) (context.Context, func()) {
	ctx, cancel := context.WithCancel(ctx)
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.cancel == nil {
		t.cancel = map[string]*context.CancelFunc{}
	}
	if older := t.cancel[name]; older != nil {
		(*older)()
	}
	mine := &cancel
	t.cancel[name] = mine
	return ctx, func() {
		cancel()
		t.mu.Lock()
		defer t.mu.Unlock()
		if t.cancel[name] == mine {
			delete(t.cancel, name)
		}
	}
}

// end ends the task of a name, if there is one.
func (t *tasks) end(name string) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if older := t.cancel[name]; older != nil {
		(*older)()
		delete(t.cancel, name)
	}
}
