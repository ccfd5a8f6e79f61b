package motion

import (
	"sync"
	"sync/atomic"
)

// memo computes a value once per key; readers of other keys do not wait.
type memo[K comparable, V any] struct {
	mu sync.Mutex
	m  map[K]*memoCell[V]
}

type memoCell[V any] struct {
	once sync.Once
	done atomic.Bool
	v    V
}

// get returns the value of k, computed by make on first use.
func (m *memo[K, V]) get(k K, compute func() V) V {
	m.mu.Lock()
	c := m.m[k]
	if c == nil {
		if m.m == nil {
			m.m = map[K]*memoCell[V]{}
		}
		c = &memoCell[V]{}
		m.m[k] = c
	}
	m.mu.Unlock()
	c.once.Do(func() {
		c.v = compute()
		c.done.Store(true)
	})
	return c.v
}

// all returns the values computed so far.
func (m *memo[K, V]) all() map[K]V {
	m.mu.Lock()
	defer m.mu.Unlock()
	out := make(map[K]V, len(m.m))
	for k, c := range m.m {
		if c.done.Load() {
			out[k] = c.v
		}
	}
	return out
}
