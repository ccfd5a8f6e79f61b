package x3d

import (
	"math/rand"
	"testing"
)

// TestPlainList holds looking at eight bytes at once against each alone.
func TestPlainList(t *testing.T) {
	rnd := rand.New(rand.NewSource(1))
	const bytes = "0123456789.-+eE, \n\t\x00!$\x7F\xC3\xA9\"#[]{}'\\aZ"
	for range 20000 {
		src := make([]byte, rnd.Intn(40))
		for i := range src {
			k := rnd.Intn(20)
			if rnd.Intn(12) == 0 {
				k = rnd.Intn(len(bytes))
			}
			src[i] = bytes[k]
		}
		start := 0
		for start < len(src) && class[src[start]]&blank != 0 {
			start++
		}
		want := start
		for want < len(src) && class[src[want]]&special == 0 {
			want++
		}
		found := want < len(src) && src[want] == ']' && !startsName(src[start])
		if end, ok := plainList(src, 0); ok != found || ok && end != want {
			t.Fatalf("%q: the list ends at %d (%v), want %d (%v)", src, end, ok, want, found)
		}
	}
}
