package server

import (
	"fmt"
	"strings"
	"testing"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"
)

// withTokens makes a client that takes semantic tokens.
func withTokens(p *protocol.InitializeParams) {
	p.Capabilities.TextDocument.SemanticTokens = protocol.SemanticTokensClientCapabilities{
		TokenTypes: []string{}, TokenModifiers: []string{}, Formats: []protocol.TokenFormat{protocol.TokenFormatRelative}}
}

// opened opens a shot of the demo.
func opened(t *testing.T, name string, tune func(*protocol.InitializeParams)) (*editor, uri.URI, string) {
	t.Helper()
	path, text := demo(t, name)
	e := start(t, tune)
	u := uri.File(path)
	e.open(u, text)
	return e, u, text
}

// lineWith returns the first line after the line of head that holds part.
func lineWith(t *testing.T, text, head, part string) int {
	t.Helper()
	from := lineOf(t, text, head)
	for i, line := range strings.Split(text, "\n")[from:] {
		if strings.Contains(line, part) {
			return from + i
		}
	}
	t.Fatalf("no %q after %q", part, head)
	return 0
}

func TestInlayHints(t *testing.T) {
	for _, tt := range []struct{ file, head, line, want string }{
		{"deckhand_spline.usda", `def Xform "head"`, "1040:", "▅ 4.70° through"},
		{"deckhand_spline.usda", `def Xform "head"`, "1035:", "leaving"},
		{"deckhand_spline.bvh", "Frame Time", "", "frame 1001"},
	} {
		e, u, text := opened(t, tt.file, nil)
		line := lineWith(t, text, tt.head, tt.line)
		if tt.line == "" {
			line++
		}
		list, err := e.server.InlayHint(t.Context(), &protocol.InlayHintParams{TextDocument: doc(u), Range: span(line, 0, line+3, 0)})
		if err != nil {
			t.Fatal(err)
		}
		if len(list) < 3 || list[0].Position.Line != uint32(line) {
			t.Fatalf("%s line %d: hints %+v", tt.file, line, list)
		}
		if got := fmt.Sprint(list[0].Label); !strings.Contains(got, tt.want) {
			t.Errorf("%s line %d: %q, want %q", tt.file, line, got, tt.want)
		}
		t.Log(list[0].Label, list[1].Label)
		if err := e.server.DidChangeConfiguration(t.Context(), &protocol.DidChangeConfigurationParams{Settings: protocol.LSPAny(`{"inlayHints": false}`)}); err != nil {
			t.Fatal(err)
		}
		list, err = e.server.InlayHint(t.Context(), &protocol.InlayHintParams{TextDocument: doc(u), Range: span(line, 0, line+3, 0)})
		if err != nil || len(list) > 0 {
			t.Errorf("hints that are switched off: %v, %v", list, err)
		}
	}
}

func TestCodeLens(t *testing.T) {
	e, u, text := opened(t, "deckhand_spline.usda", nil)
	list, err := e.server.CodeLens(t.Context(), &protocol.CodeLensParams{TextDocument: doc(u)})
	if err != nil {
		t.Fatal(err)
	}
	head := lineOf(t, text, `def Xform "head"`)
	for i := range list {
		if list[i].Range.Start.Line != uint32(head) {
			continue
		}
		l, err := e.server.CodeLensResolve(t.Context(), &list[i])
		if err != nil {
			t.Fatal(err)
		}
		t.Log(l.Command.Title)
		if !strings.Contains(l.Command.Title, "note") || !strings.Contains(l.Command.Title, "biggest move") || l.Command.Command != commandFrame {
			t.Errorf("lens: %+v", l.Command)
		}
		return
	}
	t.Error("no lens over the head")
}

func TestSemanticTokens(t *testing.T) {
	for _, file := range []string{"deckhand_spline.usda", "deckhand_spline.bvh"} {
		e, u, text := opened(t, file, withTokens)
		all, err := e.server.SemanticTokensFull(t.Context(), &protocol.SemanticTokensParams{TextDocument: doc(u)})
		if err != nil {
			t.Fatal(err)
		}
		lines := strings.Split(text, "\n")
		seen := map[string]int{}
		noted := 0
		var line, column uint32
		for d := all.Data; len(d) > 0; d = d[5:] {
			if d[0] > 0 {
				column = 0
			}
			line, column = line+d[0], column+d[1]
			word := lines[line][column : column+d[2]]
			seen[tokenTypes[d[3]]]++
			if d[4] > 0 {
				noted++
			}
			if tokenTypes[d[3]] == "class" && word == "" || d[3] == numberToken && strings.Trim(word, "-+.0123456789e(), ") != "" {
				t.Fatalf("%s %d: %q is marked as %s", file, line+1, word, tokenTypes[d[3]])
			}
		}
		if seen["class"] < 10 || seen["property"] < 10 || seen["number"] < 1000 || noted == 0 {
			t.Errorf("%s: %v, %d noted", file, seen, noted)
		}
		part, err := e.server.SemanticTokensRange(t.Context(), &protocol.SemanticTokensRangeParams{TextDocument: doc(u), Range: span(0, 0, 40, 0)})
		if err != nil || len(part.Data) == 0 || len(part.Data) >= len(all.Data) {
			t.Errorf("%s: %d of %d numbers for a range, %v", file, len(part.Data), len(all.Data), err)
		}
	}
}

func TestFoldingAndSelection(t *testing.T) {
	e, u, text := opened(t, "deckhand_spline.usda", nil)
	folds, err := e.server.FoldingRanges(t.Context(), &protocol.FoldingRangeParams{TextDocument: doc(u)})
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(text, "\n")
	for _, f := range folds {
		if f.EndLine <= f.StartLine || int(f.EndLine) >= len(lines) {
			t.Errorf("fold %+v", f)
		}
	}
	if len(folds) < 20 {
		t.Errorf("%d folds", len(folds))
	}
	line := lineWith(t, text, `def Xform "head"`, "1040:")
	list, err := e.server.SelectionRange(t.Context(), &protocol.SelectionRangeParams{TextDocument: doc(u), Positions: []protocol.Position{at(line, strings.Index(lines[line], "(")+2)}})
	if err != nil {
		t.Fatal(err)
	}
	depth := 0
	for r := &list[0]; r.Parent != nil; r = r.Parent {
		depth++
		if !within(r.Range, r.Parent.Range) {
			t.Errorf("%v is not inside %v", r.Range, r.Parent.Range)
		}
	}
	if depth < 6 { // number, line, samples, head and the parts above it, file
		t.Errorf("selection widens %d times", depth)
	}
}

func TestDefinitionReferencesHighlight(t *testing.T) {
	e, u, text := opened(t, "deckhand_spline.usda", nil)
	lines := strings.Split(text, "\n")
	key := lineWith(t, text, `def Xform "head"`, "1040:")
	pos := protocol.TextDocumentPositionParams{TextDocument: doc(u), Position: at(key, strings.Index(lines[key], "(")+2)}
	define := func(p protocol.TextDocumentPositionParams) string {
		t.Helper()
		res, err := e.server.Definition(t.Context(), &protocol.DefinitionParams{TextDocumentPositionParams: p})
		if err != nil {
			t.Fatal(err)
		}
		list, _ := res.(protocol.LocationSlice)
		if len(list) == 0 {
			return ""
		}
		return lines[list[0].Range.Start.Line]
	}
	if got := define(pos); !strings.Contains(got, "timeSamples") {
		t.Errorf("from a key to %q", got)
	}
	header := pos
	header.Position = at(lineWith(t, text, `def Xform "head"`, ".timeSamples"), 20)
	if got := define(header); !strings.Contains(got, `"head"`) {
		t.Errorf("from a channel to %q", got)
	}
	header.Position = at(lineOf(t, text, `def Xform "head"`), 4)
	if got := define(header); !strings.Contains(got, "1001:") {
		t.Errorf("from a part to %q", got)
	}
	refs, err := e.server.References(t.Context(), &protocol.ReferenceParams{TextDocumentPositionParams: pos})
	if err != nil || len(refs) < 5 {
		t.Fatalf("%d references, %v", len(refs), err)
	}
	for _, r := range refs {
		if !strings.Contains(lines[r.Range.Start.Line], "1040: ") {
			t.Errorf("reference to %q", lines[r.Range.Start.Line])
		}
	}
	marks, err := e.server.DocumentHighlight(t.Context(), &protocol.DocumentHighlightParams{TextDocumentPositionParams: pos})
	if err != nil || len(marks) != len(refs) {
		t.Errorf("%d highlights, %d references, %v", len(marks), len(refs), err)
	}
}

func TestGoToFrame(t *testing.T) {
	e, u, text := opened(t, "deckhand_spline.usda", nil)
	arg := fmt.Sprintf(`{"uri": %q, "frame": 1040, "part": "/Tug/hips"}`, u)
	raw, err := e.server.ExecuteCommand(t.Context(), &protocol.ExecuteCommandParams{Command: commandFrame, Arguments: []protocol.LSPAny{protocol.LSPAny(arg)}})
	if err != nil {
		t.Fatal(err)
	}
	var where protocol.Location
	if err := protocol.Unmarshal(raw, &where); err != nil {
		t.Fatal(err)
	}
	if line := strings.Split(text, "\n")[where.Range.Start.Line]; !strings.Contains(line, "1040:") {
		t.Errorf("frame 1040 is at %q", line)
	}
	for _, bad := range []string{`{"uri": "file:///nothing.usda"}`, `[1]`, `"x"`} {
		if _, err := e.server.ExecuteCommand(t.Context(), &protocol.ExecuteCommandParams{Command: commandFrame, Arguments: []protocol.LSPAny{protocol.LSPAny(bad)}}); err == nil {
			t.Errorf("%s was taken", bad)
		}
	}
}

// TestLensesOfMachinery: over what is mechanical a lens says how it runs, and nothing
// that only a body has; figures have as many digits as somebody reads at a glance.
func TestLensesOfMachinery(t *testing.T) {
	dir, u, content := twoPasses(t)
	e := start(t, inFolder(dir))
	e.open(u, content)
	for part, want := range map[string]string{
		"deck": "mechanical, runs 1001-1081: 13.2 degrees, fastest at frame 1054",
		"drum": "mechanical, runs 1001-1096: 554 degrees, evenly",
	} {
		if got := e.lensOver(u, lineOf(t, content, `def Xform "`+part+`"`)); got != want {
			t.Errorf("%s: %q, want %q", part, got, want)
		}
	}
	got := e.lensOver(u, lineOf(t, content, `def Xform "Gull"`))
	if want := "biggest move 1027-1096: 158 % of figure size, peak at frame 1058, leaves over 24 frames, arrives over 30 frames, arc depth 0.07"; !strings.HasPrefix(got, want) {
		t.Errorf("gull: %q, want %q", got, want)
	}
}
