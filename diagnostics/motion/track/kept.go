package track

import "sync"

// keeper keeps what was found on a track, by key.
type keeper struct {
	mu sync.Mutex
	m  map[any]any
}

// Kept returns what find gives for a track, and keeps it with the track, which
// outlives edits of the scene that do not touch it. Find must depend on nothing
// but the track and the key; the key's type belongs to the caller, so that
// callers do not meet. Callers must not write to the result.
func Kept[T any](t *Track, key any, find func() T) T {
	t.kept.mu.Lock()
	v, ok := t.kept.m[key]
	t.kept.mu.Unlock()
	if ok {
		return v.(T)
	}
	found := find()
	t.kept.mu.Lock()
	defer t.kept.mu.Unlock()
	if t.kept.m == nil {
		t.kept.m = map[any]any{}
	}
	t.kept.m[key] = found
	return found
}
