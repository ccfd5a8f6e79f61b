package workspace

import (
	"context"
	"sync"

	"curvelint/diagnostics"
)

// future is a value that is computed at most once, when somebody first asks
// for it, and given up as soon as nobody waits for it any more. Who asks after
// that starts anew. The zero value is ready for use.
type future[T any] struct {
	mu      sync.Mutex
	run     *run[T] // nil before the first request and after giving up
	waiters int
}

// run is one attempt at a future's value.
type run[T any] struct {
	done   chan struct{}
	cancel context.CancelFunc
	value  T
	err    error
}

// get returns the value. It calls compute, in a goroutine and with a context
// derived from lifetime, unless that is under way or done. It returns the
// error of ctx when that ends first, and an error of compute's own, after
// which the next call computes again. A fault in compute is such an error, which
// names the step.
func (f *future[T]) get(ctx, lifetime context.Context, step string, compute func(context.Context) (T, error)) (T, error) {
	var none T
	if err := ctx.Err(); err != nil {
		return none, err
	}
	f.mu.Lock()
	r := f.run
	if r == nil {
		r = f.start(lifetime, step, compute)
	}
	f.waiters++
	f.mu.Unlock()

	select {
	case <-r.done:
	case <-ctx.Done():
	}
	f.leave(r)
	select {
	case <-r.done:
		return r.value, r.err
	default:
		return none, ctx.Err()
	}
}

// start begins an attempt; f.mu is held.
func (f *future[T]) start(lifetime context.Context, step string, compute func(context.Context) (T, error)) *run[T] {
	ctx, cancel := context.WithCancel(lifetime)
	r := &run[T]{done: make(chan struct{}), cancel: cancel}
	f.run, f.waiters = r, 0
	go func() {
		defer cancel()
		if fault := diagnostics.Guard(step, func() { r.value, r.err = compute(ctx) }); fault != nil {
			r.err = fault
		}
		if r.err != nil {
			f.forget(r)
		}
		close(r.done)
	}()
	return r
}

// leave counts a waiter out; the last one to go ends an unfinished attempt.
func (f *future[T]) leave(r *run[T]) {
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.run != r {
		return
	}
	f.waiters--
	if f.waiters > 0 {
		return
	}
	select {
	case <-r.done:
	default:
		r.cancel()
		f.run = nil
	}
}

// forget lets the next request start anew.
func (f *future[T]) forget(r *run[T]) {
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.run == r {
		f.run = nil
	}
}

// peek returns the value if it has been computed already.
func (f *future[T]) peek() (value T, ok bool) {
	f.mu.Lock()
	r := f.run
	f.mu.Unlock()
	if r == nil {
		return value, false
	}
	select {
	case <-r.done:
		return r.value, r.err == nil
	default:
		return value, false
	}
}
