package feature_test

import (
	"strings"
	"testing"

	"curvelint/cmd/lab/editor"
	"curvelint/server/wire"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"
)

func TestHoverAtKey(t *testing.T) {
	path, text := editor.Demo(t, "deckhand_spline.usda")
	e := editor.Start(t, nil)
	u := uri.File(path)
	e.Open(u, text)
	list := e.Notes(u, 1)
	for i := range list {
		if wire.CodeOf(&list[i]) != "even-spacing" {
			continue
		}
		got := e.Hover(u, list[i].Range.Start)
		t.Log(got)
		for _, want := range []string{"**head** frame 1036", "in the world at", "before", "after", "move 10", "peak", "leaves over", "even-spacing", "order of starts: mouth, ", "lids +3, eyes +4, head +7\n"} {
			if !strings.Contains(got, want) {
				t.Errorf("hover lacks %q:\n%s", want, got)
			}
		}
	}
	t.Log(e.Hover(u, editor.At(editor.LineOf(t, text, `"deck"`), 10)))
	if got := e.Hover(u, editor.At(0, 0)); got != "" {
		t.Errorf("hover on nothing: %q", got)
	}
}

func TestSymbols(t *testing.T) {
	path, text := editor.Demo(t, "deckhand_spline.usda")
	e := editor.Start(t, nil)
	u := uri.File(path)
	e.Open(u, text)
	res, err := e.Server.DocumentSymbol(t.Context(), &protocol.DocumentSymbolParams{TextDocument: editor.Doc(u)})
	if err != nil {
		t.Fatal(err)
	}
	names := map[string]int{}
	var walk func(list []protocol.DocumentSymbol, depth int)
	walk = func(list []protocol.DocumentSymbol, depth int) {
		for i := range list {
			sym := &list[i]
			names[strings.Fields(sym.Name)[0]]++
			if !within(sym.SelectionRange, sym.Range) {
				t.Errorf("%s: selection %v outside %v", sym.Name, sym.SelectionRange, sym.Range)
			}
			walk(sym.Children, depth+1)
		}
	}
	walk(res.(protocol.DocumentSymbolSlice), 0)
	for _, want := range []string{"Tug", "head", "deck", "move", "hold"} {
		if names[want] == 0 {
			t.Errorf("no symbol %q among %v", want, names)
		}
	}
}

func TestWorkspaceSymbols(t *testing.T) {
	path, text := editor.Demo(t, "deckhand_spline.usda")
	e := editor.Start(t, nil)
	u := uri.File(path)
	e.Open(u, text)
	found, err := e.Server.Symbols(t.Context(), &protocol.WorkspaceSymbolParams{Query: "1040"})
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(text, "\n")
	frames := found.(protocol.SymbolInformationSlice)
	if len(frames) < 5 {
		t.Errorf("%d symbols on frame 1040", len(frames))
	}
	for _, f := range frames {
		if line := lines[f.Location.Range.Start.Line]; !strings.Contains(line, "1040: ") {
			t.Errorf("%s leads to %q", f.Name, line)
		}
	}
	found, err = e.Server.Symbols(t.Context(), &protocol.WorkspaceSymbolParams{Query: "head"})
	if err != nil {
		t.Fatal(err)
	}
	if parts := found.(protocol.SymbolInformationSlice); len(parts) == 0 || parts[0].Name != "head" {
		t.Errorf("query head: %+v", parts)
	}
}

func within(inner, outer protocol.Range) bool {
	return wire.ComparePositions(outer.Start, inner.Start) <= 0 && wire.ComparePositions(inner.End, outer.End) <= 0
}
