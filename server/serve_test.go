package server_test

import (
	"strings"
	"testing"

	"curvelint/cmd/lab/editor"
	"curvelint/server/wire"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"
)

func TestDemoNotes(t *testing.T) {
	path, text := editor.Demo(t, "deckhand_spline.usda")
	e := editor.Start(t, nil)
	u := uri.File(path)
	e.Open(u, text)
	list := e.Notes(u, 1)
	for _, want := range []string{"even-spacing", "same-frame", "frozen-hold"} {
		if !editor.HasCode(list, want) {
			t.Errorf("no %s among %v", want, editor.Brief(list))
		}
	}
	lines := strings.Split(text, "\n")
	for i := range list {
		d := &list[i]
		line := lines[d.Range.Start.Line]
		if got := line[d.Range.Start.Character:d.Range.End.Character]; d.Range.Start.Line != d.Range.End.Line || got == "" {
			t.Errorf("%s marks %q of %q", wire.CodeOf(d), got, line)
		}
		if d.CodeDescription.Href == "" || len(d.Data) == 0 {
			t.Errorf("%s without description or data: %+v", wire.CodeOf(d), d)
		}
		t.Logf("%d %s: %s (%d related)", d.Range.Start.Line+1, wire.CodeOf(d), wire.MessageOf(d), len(d.RelatedInformation))
	}
}

func TestLifecycle(t *testing.T) {
	e := editor.Start(t, nil)
	if e.Result.Capabilities.PositionEncoding != protocol.PositionEncodingKindUTF8 {
		t.Errorf("encoding %q", e.Result.Capabilities.PositionEncoding)
	}
	if e.Result.ServerInfo.Name != "curvelint" {
		t.Errorf("server info %+v", e.Result.ServerInfo)
	}
	if _, err := e.Server.Initialize(t.Context(), &protocol.InitializeParams{}); err == nil {
		t.Error("initialize was taken twice")
	}
}
