package server_test

import (
	"testing"

	"curvelint/cmd/lab/editor"
	"curvelint/server/wire"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"
)

// TestConfigNames hints at a name in a curvelint.toml that no scene below it
// has, and takes the hint back when the name is mended.
func TestConfigNames(t *testing.T) {
	_, spline := editor.Demo(t, "deckhand_spline.usda")
	dir := t.TempDir()
	toml := editor.Write(t, dir, "curvelint.toml", "handles = 1\nfocus = \"haed\"\n")
	u, conf := uri.File(editor.Write(t, dir, "shot.usda", spline)), uri.File(toml)
	e := editor.Start(t, editor.InFolder(dir))
	e.Open(u, spline)
	e.Await("a hint at the name", func() bool {
		p := e.Published[conf]
		return p != nil && len(p.Diagnostics) == 1 && wire.CodeOf(&p.Diagnostics[0]) == "config" &&
			p.Diagnostics[0].Severity == protocol.DiagnosticSeverityHint &&
			p.Diagnostics[0].Message == protocol.String(`no group is called "haed"; did you mean "head"?`) &&
			p.Diagnostics[0].Range.Start == editor.At(1, 8)
	})
	e.Open(conf, "handles = 1\nfocus = \"haed\"\n")
	e.Change(conf, 2, &protocol.TextDocumentContentChangeWholeDocument{Text: "handles = 1\nfocus = \"head\"\n"})
	e.Await("no hint", func() bool { return len(e.Published[conf].Diagnostics) == 0 })
}
