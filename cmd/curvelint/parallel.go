package main

import (
	"context"
	"iter"
	"sync"
	"time"
)

// inFlight bounds the bytes of the files that are read at the same time. A
// scene takes at most about three times its file, so that a folder of any size
// stays well under a gigabyte.
const inFlight = 256 << 20

// grace is how long an interrupted run waits for files that are being read.
const grace = 50 * time.Millisecond

// all checks the inputs on several processors and gives the outcomes in their
// order, as soon as each is its turn. When the context ends it gives those that
// are ready and no more; it does not wait for what is under way.
func (k *checker) all(ctx context.Context, inputs []input) iter.Seq[outcome] {
	return func(yield func(outcome) bool) {
		ctx, cancel := context.WithCancel(ctx)
		ready := make([]chan outcome, len(inputs))
		for i := range ready {
			ready[i] = make(chan outcome, 1)
		}
		ended := make(chan struct{})
		go func() {
			defer close(ended)
			k.feed(ctx, inputs, ready)
		}()
		defer func() {
			cancel()
			select {
			case <-ended:
			case <-time.After(grace):
			}
		}()
		for i := range ready {
			o, ok := await(ctx, ready[i])
			if !ok {
				continue // others may be ready
			}
			if !yield(o) {
				return
			}
		}
	}
}

// await returns the outcome from ready, or false when the context ends before
// it is there.
func await(ctx context.Context, ready chan outcome) (outcome, bool) {
	select {
	case o := <-ready:
		return o, true
	case <-ctx.Done():
	}
	select {
	case o := <-ready:
		return o, true
	default:
		return outcome{}, false
	}
}

// feed starts the work on each input in order, as processors and the budget of
// bytes allow.
func (k *checker) feed(ctx context.Context, inputs []input, ready []chan outcome) {
	budget := newBudget(inFlight)
	stop := context.AfterFunc(ctx, budget.close)
	defer stop()
	jobs := make(chan int)
	var wg sync.WaitGroup
	for range min(k.options.jobs, len(inputs)) {
		wg.Go(func() {
			for i := range jobs {
				o := k.checkOne(ctx, inputs[i])
				budget.give(inputs[i].size)
				if ctx.Err() == nil { // else the notes may be incomplete
					ready[i] <- o
				}
			}
		})
	}
	for i := range inputs {
		if !budget.take(inputs[i].size) {
			break
		}
		jobs <- i
	}
	close(jobs)
	wg.Wait()
}

// budget hands out a number of bytes. Who asks for more than there is waits
// until all is given back, and then gets it.
type budget struct {
	mu     sync.Mutex
	freed  *sync.Cond
	total  int64
	left   int64
	closed bool
}

func newBudget(total int64) *budget {
	b := &budget{total: total, left: total}
	b.freed = sync.NewCond(&b.mu)
	return b
}

// take waits for n bytes; it returns false when the budget is closed.
func (b *budget) take(n int64) bool {
	n = min(n, b.total)
	b.mu.Lock()
	defer b.mu.Unlock()
	for b.left < n && !b.closed {
		b.freed.Wait()
	}
	b.left -= n
	return !b.closed
}

func (b *budget) give(n int64) {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.left += min(n, b.total)
	b.freed.Broadcast()
}

func (b *budget) close() {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.closed = true
	b.freed.Broadcast()
}
