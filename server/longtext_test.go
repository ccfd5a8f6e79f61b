package server_test

import (
	"strings"
	"testing"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"curvelint/cmd/lab/editor"
)

// TestLargeTexts opens texts of several sizes, whole and broken, through the
// wire.
func TestLargeTexts(t *testing.T) {
	for _, size := range []int{100, 65 << 10, 1<<20 + 100} {
		e := editor.Start(t, editor.Everything)
		text := "Frame,a\n" + strings.Repeat("# \"gr\u00fcn\"\\\t\n", size/12)
		for i, name := range []string{"/ferry/a.csv", "/ferry/b.csv"} {
			u := uri.File(name)
			e.Open(u, text[i:])
			if _, err := e.Server.DocumentSymbol(t.Context(), &protocol.DocumentSymbolParams{TextDocument: editor.Doc(u)}); err != nil {
				t.Fatal(err)
			}
			if d := e.Inside.Doc(u); d == nil || string(d.Text()) != text[i:] {
				t.Fatalf("a text of %d bytes did not arrive", len(text))
			}
		}
	}
}
