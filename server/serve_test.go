package server

import (
	"strings"
	"testing"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"
)

func TestDemoNotes(t *testing.T) {
	path, text := demo(t, "deckhand_spline.usda")
	e := start(t, nil)
	u := uri.File(path)
	e.open(u, text)
	list := e.notes(u, 1)
	for _, want := range []string{"even-spacing", "same-frame", "frozen-hold"} {
		if !hasCode(list, want) {
			t.Errorf("no %s among %v", want, brief(list))
		}
	}
	lines := strings.Split(text, "\n")
	for i := range list {
		d := &list[i]
		line := lines[d.Range.Start.Line]
		if got := line[d.Range.Start.Character:d.Range.End.Character]; d.Range.Start.Line != d.Range.End.Line || got == "" {
			t.Errorf("%s marks %q of %q", codeOf(d), got, line)
		}
		if d.CodeDescription.Href == "" || len(d.Data) == 0 {
			t.Errorf("%s without description or data: %+v", codeOf(d), d)
		}
		t.Logf("%d %s: %s (%d related)", d.Range.Start.Line+1, codeOf(d), messageOf(d), len(d.RelatedInformation))
	}
}

func TestLifecycle(t *testing.T) {
	e := start(t, nil)
	if e.result.Capabilities.PositionEncoding != protocol.PositionEncodingKindUTF8 {
		t.Errorf("encoding %q", e.result.Capabilities.PositionEncoding)
	}
	if e.result.ServerInfo.Name != "curvelint" {
		t.Errorf("server info %+v", e.result.ServerInfo)
	}
	if _, err := e.server.Initialize(t.Context(), &protocol.InitializeParams{}); err == nil {
		t.Error("initialize was taken twice")
	}
}
