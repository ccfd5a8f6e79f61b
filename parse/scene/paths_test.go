package scene

import (
	"strings"
	"testing"
)

func TestPaths(t *testing.T) {
	p := NewPaths(1000)
	for _, test := range []struct{ parent, name, want string }{
		{"", "deckhand", "/deckhand"},
		{"/deckhand", "spine", "/deckhand/spine"},
		{"/deckhand", "spine", "/deckhand/spine[2]"},
		{"/deckhand", "spine", "/deckhand/spine[3]"},
		{"/deckhand", "spine[2]", "/deckhand/spine[2][2]"},
		{"", "rope/left", "/rope_left"},
		{"", "", "/"},
		{"", strings.Repeat("é", 150), "/" + strings.Repeat("é", 100)},
	} {
		if got, ok := p.Add(test.parent, test.name); got != test.want || !ok {
			t.Errorf("%q below %q: %q %v, want %q", test.name, test.parent, got, ok, test.want)
		}
	}
	for i := 0; ; i++ {
		if _, ok := p.Add(strings.Repeat("/rope", 1000), "x"); !ok {
			break
		}
		if i > 1000 {
			t.Fatal("paths without end")
		}
	}
}
