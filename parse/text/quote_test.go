package text

import (
	"strings"
	"testing"
)

func TestQuote(t *testing.T) {
	for in, want := range map[string]string{
		"":                                      `""`,
		"rope\n\"":                              `"rope\n\""`,
		strings.Repeat("a", 40):                 `"` + strings.Repeat("a", 40) + `"`,
		strings.Repeat("a", 41):                 `"` + strings.Repeat("a", 40) + `…"`,
		strings.Repeat("a", 38) + "\U00010400b": `"` + strings.Repeat("a", 38) + `…"`,
	} {
		if got := Quote([]byte(in)); got != want {
			t.Errorf("%q: %s, want %s", in, got, want)
		}
	}
}
