package server

import (
	"testing"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"
)

// TestConfigNames hints at a name in a curvelint.toml that no scene below it
// has, and takes the hint back when the name is mended.
func TestConfigNames(t *testing.T) {
	_, spline := demo(t, "deckhand_spline.usda")
	dir := t.TempDir()
	toml := write(t, dir, "curvelint.toml", "handles = 1\nfocus = \"haed\"\n")
	u, conf := uri.File(write(t, dir, "shot.usda", spline)), uri.File(toml)
	e := start(t, inFolder(dir))
	e.open(u, spline)
	e.await("a hint at the name", func() bool {
		p := e.published[conf]
		return p != nil && len(p.Diagnostics) == 1 && codeOf(&p.Diagnostics[0]) == "config" &&
			p.Diagnostics[0].Severity == protocol.DiagnosticSeverityHint &&
			p.Diagnostics[0].Message == protocol.String(`no group is called "haed"; did you mean "head"?`) &&
			p.Diagnostics[0].Range.Start == at(1, 8)
	})
	e.open(conf, "handles = 1\nfocus = \"haed\"\n")
	e.change(conf, 2, &protocol.TextDocumentContentChangeWholeDocument{Text: "handles = 1\nfocus = \"head\"\n"})
	e.await("no hint", func() bool { return len(e.published[conf].Diagnostics) == 0 })
}
