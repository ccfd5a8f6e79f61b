package server

import (
	"strings"
	"testing"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"
)

// lineOf returns the line (from 0) on which a text occurs first.
func lineOf(t *testing.T, text, part string) int {
	t.Helper()
	i := strings.Index(text, part)
	if i < 0 {
		t.Fatalf("no %q in the text", part)
	}
	return strings.Count(text[:i], "\n")
}

func (e *editor) hover(u uri.URI, p protocol.Position) string {
	e.t.Helper()
	h, err := e.server.Hover(e.t.Context(), &protocol.HoverParams{
		TextDocumentPositionParams: protocol.TextDocumentPositionParams{TextDocument: doc(u), Position: p}})
	if err != nil {
		e.t.Fatal(err)
	}
	if h == nil {
		return ""
	}
	return h.Contents.(*protocol.MarkupContent).Value
}

func TestHoverAtKey(t *testing.T) {
	path, text := demo(t, "deckhand_spline.usda")
	e := start(t, nil)
	u := uri.File(path)
	e.open(u, text)
	list := e.notes(u, 1)
	for i := range list {
		if codeOf(&list[i]) != "even-spacing" {
			continue
		}
		got := e.hover(u, list[i].Range.Start)
		t.Log(got)
		for _, want := range []string{"**head** frame 1036", "in the world at", "before", "after", "move 10", "peak", "leaves over", "even-spacing", "order of starts: mouth, ", "lids +3, eyes +4, head +7\n"} {
			if !strings.Contains(got, want) {
				t.Errorf("hover lacks %q:\n%s", want, got)
			}
		}
	}
	t.Log(e.hover(u, at(lineOf(t, text, `"deck"`), 10)))
	if got := e.hover(u, at(0, 0)); got != "" {
		t.Errorf("hover on nothing: %q", got)
	}
}

func TestSymbols(t *testing.T) {
	path, text := demo(t, "deckhand_spline.usda")
	e := start(t, nil)
	u := uri.File(path)
	e.open(u, text)
	res, err := e.server.DocumentSymbol(t.Context(), &protocol.DocumentSymbolParams{TextDocument: doc(u)})
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
	path, text := demo(t, "deckhand_spline.usda")
	e := start(t, nil)
	u := uri.File(path)
	e.open(u, text)
	found, err := e.server.Symbols(t.Context(), &protocol.WorkspaceSymbolParams{Query: "1040"})
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
	found, err = e.server.Symbols(t.Context(), &protocol.WorkspaceSymbolParams{Query: "head"})
	if err != nil {
		t.Fatal(err)
	}
	if parts := found.(protocol.SymbolInformationSlice); len(parts) == 0 || parts[0].Name != "head" {
		t.Errorf("query head: %+v", parts)
	}
}

func within(inner, outer protocol.Range) bool {
	return comparePositions(outer.Start, inner.Start) <= 0 && comparePositions(inner.End, outer.End) <= 0
}
