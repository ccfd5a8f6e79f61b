package feature_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"curvelint/cmd/lab/editor"
	"curvelint/server/show"
	"curvelint/server/wire"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"
)

func titled(t *testing.T, list []*protocol.CodeAction, start string) *protocol.CodeAction {
	t.Helper()
	var titles []string
	for _, a := range list {
		if strings.HasPrefix(a.Title, start) {
			return a
		}
		titles = append(titles, a.Title)
	}
	t.Fatalf("no action %q among %q", start, titles)
	return nil
}

// TestFixesInTheEditor applies each kind of fix to the demo and sees the note
// go, with and without late edits.
func TestFixesInTheEditor(t *testing.T) {
	for _, tune := range []func(*protocol.InitializeParams){editor.Fixing, editor.PlainFixing} {
		for _, tt := range []struct{ check, title string }{
			{"even-spacing", "Ease this run: "},
			{"frozen-hold", "Let the hold drift: "},
			{"same-frame", "Offset by 2 frames: "},
			{"pop", "Smooth this frame: "},
		} {
			e, u, content := editor.Opened(t, "deckhand_spline.usda", tune)
			before := e.Settled(u, 1)
			a := titled(t, e.Actions(u, before, tt.check), tt.title)
			if a.Edit == nil {
				var err error
				if a, err = e.Server.CodeActionResolve(t.Context(), a); err != nil {
					t.Fatal(err)
				}
			}
			edits := editor.EditsOf(a.Edit, u)
			if len(edits) == 0 {
				t.Fatalf("%s: no edits in %+v", a.Title, a.Edit)
			}
			if len(a.Edit.DocumentChanges) > 0 && len(a.Edit.ChangeAnnotations) != 1 {
				t.Errorf("annotations: %+v", a.Edit.ChangeAnnotations)
			}
			e.Change(u, 2, &protocol.TextDocumentContentChangeWholeDocument{Text: editor.Edited(t, content, edits)})
			after := e.Settled(u, 2)
			if editor.HasCode(after, tt.check) {
				t.Errorf("%s: still %v", a.Title, editor.Brief(after))
			}
		}
	}
}

// TestAllow allows a note in a curvelint.toml that exists, in one that does
// not, and by a comment.
func TestAllow(t *testing.T) {
	_, spline := editor.Demo(t, "deckhand_spline.usda")
	_, toml := editor.Demo(t, "curvelint.toml")
	for _, existing := range []string{toml, ""} {
		dir := t.TempDir()
		if existing != "" {
			editor.Write(t, dir, "curvelint.toml", existing)
		}
		u, conf := uri.File(editor.Write(t, dir, "shot.usda", spline)), uri.File(dir+"/curvelint.toml")
		e := editor.Start(t, func(p *protocol.InitializeParams) { editor.Fixing(p); editor.InFolder(dir)(p) })
		e.Open(u, spline)
		a := titled(t, e.Actions(u, e.Settled(u, 1), "even-spacing"), "Allow in curvelint.toml")
		if _, ok := a.Edit.DocumentChanges[0].(*protocol.CreateFile); ok == (existing != "") {
			t.Errorf("edit %+v", a.Edit.DocumentChanges)
		}
		after := editor.Edited(t, existing, editor.EditsOf(a.Edit, conf))
		editor.Write(t, dir, "curvelint.toml", after)
		e.Watched(dir + "/curvelint.toml")
		e.Await("the allowed note to go", func() bool {
			p := e.Published[u]
			return p != nil && !slices.ContainsFunc(p.Diagnostics, func(d protocol.Diagnostic) bool {
				return d.Range == a.Diagnostics[0].Range && wire.CodeOf(&d) == "even-spacing"
			})
		})
		if p := e.Published[conf]; p != nil && len(p.Diagnostics) > 0 {
			t.Errorf("the configuration has notes: %v\n%s", editor.Brief(p.Diagnostics), after)
		}
	}
	e, u, content := editor.Opened(t, "deckhand_spline.usda", editor.Fixing)
	a := titled(t, e.Actions(u, e.Settled(u, 1), "even-spacing"), "Allow here by a comment")
	e.Change(u, 2, &protocol.TextDocumentContentChangeWholeDocument{Text: editor.Edited(t, content, editor.EditsOf(a.Edit, u))})
	if list := e.Settled(u, 2); editor.HasCode(list, "even-spacing") || editor.HasCode(list, "unused-allow") {
		t.Errorf("after the comment: %v", editor.Brief(list))
	}
}

// TestOtherActions: numbers to copy and the check's document are offered, and
// an action that is out of date is refused.
func TestOtherActions(t *testing.T) {
	e, u, content := editor.Opened(t, "deckhand_spline.usda", editor.Fixing)
	list := e.Actions(u, e.Settled(u, 1), "even-spacing")
	c := titled(t, list, "Copy the new numbers").Command
	if _, err := e.Server.ExecuteCommand(t.Context(), &protocol.ExecuteCommandParams{Command: c.Command, Arguments: c.Arguments}); err != nil {
		t.Fatal(err)
	}
	e.Await("the numbers", func() bool { return len(e.Messages) == 1 && strings.Contains(e.Messages[0], "spacing a frame: 3.03") })
	c = titled(t, list, "Explain even-spacing").Command
	raw, err := e.Server.ExecuteCommand(t.Context(), &protocol.ExecuteCommandParams{Command: c.Command, Arguments: c.Arguments})
	if err != nil || !strings.Contains(string(raw), "even") {
		t.Errorf("explained: %s, %v", raw, err)
	}
	ease := titled(t, list, "Ease this run")
	e.Change(u, 2, &protocol.TextDocumentContentChangeWholeDocument{Text: content + "\n"})
	if _, err := e.Server.CodeActionResolve(t.Context(), ease); err == nil {
		t.Error("an action for an older version was resolved")
	}
	only, err := e.Server.CodeAction(t.Context(), &protocol.CodeActionParams{TextDocument: editor.Doc(u), Range: editor.Span(0, 0, 5000, 0),
		Context: protocol.CodeActionContext{Diagnostics: []protocol.Diagnostic{}, Only: []protocol.CodeActionKind{"source.organizeImports"}}})
	if err != nil || len(only) > 0 {
		t.Errorf("actions of another kind: %v, %v", only, err)
	}
}

// TestCommandsOnly: a client that knows actions only as commands gets those.
func TestCommandsOnly(t *testing.T) {
	e, u, _ := editor.Opened(t, "deckhand_spline.usda", nil)
	list := e.Settled(u, 1)
	i := slices.IndexFunc(list, func(d protocol.Diagnostic) bool { return wire.CodeOf(&d) == "even-spacing" })
	all, err := e.Server.CodeAction(t.Context(), &protocol.CodeActionParams{TextDocument: editor.Doc(u), Range: list[i].Range, Context: protocol.CodeActionContext{Diagnostics: list}})
	if err != nil {
		t.Fatal(err)
	}
	for _, a := range all {
		c, ok := a.(*protocol.Command)
		if !ok {
			t.Fatalf("%+v is no command", a)
		}
		if c.Command != show.CommandFix {
			continue
		}
		raw, err := e.Server.ExecuteCommand(t.Context(), &protocol.ExecuteCommandParams{Command: c.Command, Arguments: c.Arguments})
		if err != nil || !strings.Contains(string(raw), "newText") {
			t.Errorf("%s gave %.80s, %v", c.Title, fmt.Sprint(string(raw)), err)
		}
		return
	}
	t.Errorf("no fix among %d commands", len(all))
}

// TestFixOfAHoldAnywhere: a hold is all of its frames, so that what lets it drift is
// offered at each of them, on every part that holds, and nowhere else.
func TestFixOfAHoldAnywhere(t *testing.T) {
	e, u, text := editor.Opened(t, "deckhand_spline.usda", editor.Fixing)
	list := e.Settled(u, 1)
	i := slices.IndexFunc(list, func(d protocol.Diagnostic) bool { return wire.CodeOf(&d) == "frozen-hold" })
	if i < 0 {
		t.Fatal("no hold is frozen")
	}
	offered := func(part string, frame int) bool {
		line := editor.LineWith(t, text, `def Xform "`+part+`"`, fmt.Sprintf(" %d: ", frame))
		pos := editor.At(line, strings.Index(strings.Split(text, "\n")[line], ": ")+3)
		all, err := e.Server.CodeAction(t.Context(), &protocol.CodeActionParams{TextDocument: editor.Doc(u), Range: protocol.Range{Start: pos, End: pos}})
		if err != nil {
			t.Fatal(err)
		}
		return slices.ContainsFunc(all, func(a protocol.CommandOrCodeAction) bool {
			c, ok := a.(*protocol.CodeAction)
			return ok && strings.HasPrefix(c.Title, "Let the hold drift")
		})
	}
	for _, part := range []string{"head", "chest", "hips"} {
		for frame := 1047; frame <= 1058; frame++ {
			if !offered(part, frame) {
				t.Errorf("%s, frame %d: nothing lets the hold drift: %s", part, frame, wire.MessageOf(&list[i]))
			}
		}
		for _, frame := range []int{1040, 1044, 1061, 1090} {
			if offered(part, frame) {
				t.Errorf("%s, frame %d: a fix for the hold of other frames", part, frame)
			}
		}
	}
	if offered("drum", 1050) {
		t.Error("the winch is offered the drift of the deckhand")
	}
}
