package motion

import "sync"

// memo computes a value once per key; readers of other keys do not wait.
type memo[K comparable, V any] struct {
	mu sync.Mutex
	m  map[K]*memoCell[V]
}

type memoCell[V any] struct {
	once sync.Once
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
	c.once.Do(func() { c.v = compute() })
	return c.v
}
