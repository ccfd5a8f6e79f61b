package wire

import (
	"context"
	"sync"
	"time"
)

// Background is the work of a session that no request waits for.
type Background struct {
	lifetime context.Context
	log      *Log
	named    tasks

	mu      sync.Mutex
	closed  bool           // no more work is begun
	working sync.WaitGroup // everything under way
}

// NewBackground returns a place for work that ends with lifetime at the latest.
func NewBackground(lifetime context.Context, log *Log) *Background {
	return &Background{lifetime: lifetime, log: log}
}

// Go runs f until it is done or the session ends, which ends its context. A panic
// in it is logged.
func (b *Background) Go(f func(ctx context.Context)) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.closed {
		return
	}
	b.working.Go(func() {
		defer func() {
			if fault := recover(); fault != nil {
				b.log.Printf("background work: panic: %v", fault)
			}
		}()
		f(b.lifetime)
	})
}

// GoLatest is Go for work that has a name: what runs under the same name ends.
func (b *Background) GoLatest(name string, f func(ctx context.Context)) {
	ctx, done := b.named.begin(b.lifetime, name)
	b.Go(func(context.Context) {
		defer done()
		f(ctx)
	})
}

// End ends the work of a name, if there is some.
func (b *Background) End(name string) { b.named.end(name) }

// patience is how long the end of a session waits for work that hangs, for
// example on a client that does not read.
const patience = 2 * time.Second

// Close begins no more work and waits for what is under way, whose context must
// have ended.
func (b *Background) Close() {
	b.mu.Lock()
	b.closed = true
	b.mu.Unlock()
	over := make(chan struct{})
	go func() { b.working.Wait(); close(over) }()
	select {
	case <-over:
	case <-time.After(patience):
	}
}

// Sleep waits and reports whether it could do so to the end.
func Sleep(ctx context.Context, d time.Duration) bool {
	if d <= 0 {
		return ctx.Err() == nil
	}
	t := time.NewTimer(d)
	defer t.Stop()
	select {
	case <-t.C:
		return true
	case <-ctx.Done():
		return false
	}
}
