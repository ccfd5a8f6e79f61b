package feature_test

import (
	"fmt"
	"strings"
	"testing"

	"go.lsp.dev/protocol"

	"curvelint/cmd/lab/editor"
	"curvelint/server/feature"
	"curvelint/server/show"
)

func TestInlayHints(t *testing.T) {
	for _, tt := range []struct{ file, head, line, want string }{
		{"deckhand_spline.usda", `def Xform "head"`, "1040:", "▅ 4.70° through"},
		{"deckhand_spline.usda", `def Xform "head"`, "1035:", "leaving"},
		{"deckhand_spline.bvh", "Frame Time", "", "frame 1001"},
	} {
		e, u, text := editor.Opened(t, tt.file, nil)
		line := editor.LineWith(t, text, tt.head, tt.line)
		if tt.line == "" {
			line++
		}
		list, err := e.Server.InlayHint(t.Context(), &protocol.InlayHintParams{TextDocument: editor.Doc(u), Range: editor.Span(line, 0, line+3, 0)})
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
		if err := e.Server.DidChangeConfiguration(t.Context(), &protocol.DidChangeConfigurationParams{Settings: protocol.LSPAny(`{"inlayHints": false}`)}); err != nil {
			t.Fatal(err)
		}
		list, err = e.Server.InlayHint(t.Context(), &protocol.InlayHintParams{TextDocument: editor.Doc(u), Range: editor.Span(line, 0, line+3, 0)})
		if err != nil || len(list) > 0 {
			t.Errorf("hints that are switched off: %v, %v", list, err)
		}
	}
}

func TestCodeLens(t *testing.T) {
	e, u, text := editor.Opened(t, "deckhand_spline.usda", nil)
	list, err := e.Server.CodeLens(t.Context(), &protocol.CodeLensParams{TextDocument: editor.Doc(u)})
	if err != nil {
		t.Fatal(err)
	}
	head := editor.LineOf(t, text, `def Xform "head"`)
	for i := range list {
		if list[i].Range.Start.Line != uint32(head) {
			continue
		}
		l, err := e.Server.CodeLensResolve(t.Context(), &list[i])
		if err != nil {
			t.Fatal(err)
		}
		t.Log(l.Command.Title)
		if !strings.Contains(l.Command.Title, "note") || !strings.Contains(l.Command.Title, "biggest move") || l.Command.Command != show.CommandFrame {
			t.Errorf("lens: %+v", l.Command)
		}
		return
	}
	t.Error("no lens over the head")
}

func TestSemanticTokens(t *testing.T) {
	for _, file := range []string{"deckhand_spline.usda", "deckhand_spline.bvh"} {
		e, u, text := editor.Opened(t, file, editor.WithTokens)
		all, err := e.Server.SemanticTokensFull(t.Context(), &protocol.SemanticTokensParams{TextDocument: editor.Doc(u)})
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
			seen[feature.TokenTypes[d[3]]]++
			if d[4] > 0 {
				noted++
			}
			if feature.TokenTypes[d[3]] == "class" && word == "" || feature.TokenTypes[d[3]] == "number" && strings.Trim(word, "-+.0123456789e(), ") != "" {
				t.Fatalf("%s %d: %q is marked as %s", file, line+1, word, feature.TokenTypes[d[3]])
			}
		}
		if seen["class"] < 10 || seen["property"] < 10 || seen["number"] < 1000 || noted == 0 {
			t.Errorf("%s: %v, %d noted", file, seen, noted)
		}
		part, err := e.Server.SemanticTokensRange(t.Context(), &protocol.SemanticTokensRangeParams{TextDocument: editor.Doc(u), Range: editor.Span(0, 0, 40, 0)})
		if err != nil || len(part.Data) == 0 || len(part.Data) >= len(all.Data) {
			t.Errorf("%s: %d of %d numbers for a range, %v", file, len(part.Data), len(all.Data), err)
		}
	}
}

func TestFoldingAndSelection(t *testing.T) {
	e, u, text := editor.Opened(t, "deckhand_spline.usda", nil)
	folds, err := e.Server.FoldingRanges(t.Context(), &protocol.FoldingRangeParams{TextDocument: editor.Doc(u)})
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
	line := editor.LineWith(t, text, `def Xform "head"`, "1040:")
	list, err := e.Server.SelectionRange(t.Context(), &protocol.SelectionRangeParams{TextDocument: editor.Doc(u), Positions: []protocol.Position{editor.At(line, strings.Index(lines[line], "(")+2)}})
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
	e, u, text := editor.Opened(t, "deckhand_spline.usda", nil)
	lines := strings.Split(text, "\n")
	key := editor.LineWith(t, text, `def Xform "head"`, "1040:")
	pos := protocol.TextDocumentPositionParams{TextDocument: editor.Doc(u), Position: editor.At(key, strings.Index(lines[key], "(")+2)}
	define := func(p protocol.TextDocumentPositionParams) string {
		t.Helper()
		res, err := e.Server.Definition(t.Context(), &protocol.DefinitionParams{TextDocumentPositionParams: p})
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
	header.Position = editor.At(editor.LineWith(t, text, `def Xform "head"`, ".timeSamples"), 20)
	if got := define(header); !strings.Contains(got, `"head"`) {
		t.Errorf("from a channel to %q", got)
	}
	header.Position = editor.At(editor.LineOf(t, text, `def Xform "head"`), 4)
	if got := define(header); !strings.Contains(got, "1001:") {
		t.Errorf("from a part to %q", got)
	}
	refs, err := e.Server.References(t.Context(), &protocol.ReferenceParams{TextDocumentPositionParams: pos})
	if err != nil || len(refs) < 5 {
		t.Fatalf("%d references, %v", len(refs), err)
	}
	for _, r := range refs {
		if !strings.Contains(lines[r.Range.Start.Line], "1040: ") {
			t.Errorf("reference to %q", lines[r.Range.Start.Line])
		}
	}
	marks, err := e.Server.DocumentHighlight(t.Context(), &protocol.DocumentHighlightParams{TextDocumentPositionParams: pos})
	if err != nil || len(marks) != len(refs) {
		t.Errorf("%d highlights, %d references, %v", len(marks), len(refs), err)
	}
}

func TestGoToFrame(t *testing.T) {
	e, u, text := editor.Opened(t, "deckhand_spline.usda", nil)
	arg := fmt.Sprintf(`{"uri": %q, "frame": 1040, "part": "/Tug/hips"}`, u)
	raw, err := e.Server.ExecuteCommand(t.Context(), &protocol.ExecuteCommandParams{Command: show.CommandFrame, Arguments: []protocol.LSPAny{protocol.LSPAny(arg)}})
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
		if _, err := e.Server.ExecuteCommand(t.Context(), &protocol.ExecuteCommandParams{Command: show.CommandFrame, Arguments: []protocol.LSPAny{protocol.LSPAny(bad)}}); err == nil {
			t.Errorf("%s was taken", bad)
		}
	}
}

// TestLensesOfMachinery: over what is mechanical a lens says how it runs, and nothing
// that only a body has; figures have as many digits as somebody reads at a glance.
func TestLensesOfMachinery(t *testing.T) {
	dir, u, content := editor.TwoPasses(t)
	e := editor.Start(t, editor.InFolder(dir))
	e.Open(u, content)
	for part, want := range map[string]string{
		"deck": "mechanical, runs 1001-1081: 13.2 degrees, fastest at frame 1054",
		"drum": "mechanical, runs 1001-1096: 554 degrees, evenly",
	} {
		if got := e.LensOver(u, editor.LineOf(t, content, `def Xform "`+part+`"`)); got != want {
			t.Errorf("%s: %q, want %q", part, got, want)
		}
	}
	got := e.LensOver(u, editor.LineOf(t, content, `def Xform "Gull"`))
	if want := "biggest move 1027-1096: 158 % of figure size, peak at frame 1058, leaves over 24 frames, arrives over 30 frames, arc depth 0.07"; !strings.HasPrefix(got, want) {
		t.Errorf("gull: %q, want %q", got, want)
	}
}
