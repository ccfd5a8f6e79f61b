package server

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"curvelint/parse/text"
)

// fixing makes a client that takes actions in all their glory.
func fixing(p *protocol.InitializeParams) {
	p.Capabilities.TextDocument.CodeAction = &protocol.CodeActionClientCapabilities{
		CodeActionLiteralSupport: protocol.ClientCodeActionLiteralOptions{CodeActionKind: protocol.ClientCodeActionKindOptions{ValueSet: []protocol.CodeActionKind{protocol.CodeActionKindQuickFix}}},
		IsPreferredSupport:       new(true), DisabledSupport: new(true), DataSupport: new(true), HonorsChangeAnnotations: new(true),
		ResolveSupport: protocol.ClientCodeActionResolveOptions{Properties: []string{"edit"}},
	}
	p.Capabilities.Workspace.WorkspaceEdit = &protocol.WorkspaceEditClientCapabilities{
		DocumentChanges: new(true), ResourceOperations: []protocol.ResourceOperationKind{protocol.ResourceOperationKindCreate},
		ChangeAnnotationSupport: &protocol.ChangeAnnotationsSupportOptions{},
	}
}

// plainFixing makes a client that takes edits at once and knows no annotations.
func plainFixing(p *protocol.InitializeParams) {
	p.Capabilities.TextDocument.CodeAction = &protocol.CodeActionClientCapabilities{
		CodeActionLiteralSupport: protocol.ClientCodeActionLiteralOptions{CodeActionKind: protocol.ClientCodeActionKindOptions{ValueSet: []protocol.CodeActionKind{protocol.CodeActionKindQuickFix}}}}
}

// actions returns the actions at a note of a check.
func (e *editor) actions(u uri.URI, list []protocol.Diagnostic, check string) []*protocol.CodeAction {
	e.t.Helper()
	i := slices.IndexFunc(list, func(d protocol.Diagnostic) bool { return codeOf(&d) == check })
	if i < 0 {
		e.t.Fatalf("no %s among %v", check, brief(list))
	}
	all, err := e.server.CodeAction(e.t.Context(), &protocol.CodeActionParams{TextDocument: doc(u), Range: list[i].Range,
		Context: protocol.CodeActionContext{Diagnostics: list[i : i+1]}})
	if err != nil {
		e.t.Fatal(err)
	}
	var out []*protocol.CodeAction
	for _, a := range all {
		if a, ok := a.(*protocol.CodeAction); ok && len(a.Diagnostics) > 0 && codeOf(&a.Diagnostics[0]) == check {
			out = append(out, a)
		}
	}
	return out
}

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

// edited applies the edits of one file to a text, as an editor does: from the
// end to the start.
func edited(t *testing.T, content string, edits []protocol.TextEdit) string {
	t.Helper()
	slices.SortFunc(edits, func(a, b protocol.TextEdit) int { return comparePositions(b.Range.Start, a.Range.Start) })
	for _, e := range edits {
		x := text.NewIndex([]byte(content))
		a, errA := x.Offset(textPosition(e.Range.Start), text.UTF8)
		b, errB := x.Offset(textPosition(e.Range.End), text.UTF8)
		if errA != nil || errB != nil {
			t.Fatalf("edit at %v: %v, %v", e.Range, errA, errB)
		}
		content = content[:a] + e.NewText + content[b:]
	}
	return content
}

// editsOf returns the edits of a file in an edit of the workspace.
func editsOf(w *protocol.WorkspaceEdit, u uri.URI) []protocol.TextEdit {
	list := w.Changes[u]
	for _, c := range w.DocumentChanges {
		d, ok := c.(*protocol.TextDocumentEdit)
		if !ok || d.TextDocument.URI != u {
			continue
		}
		for _, e := range d.Edits {
			switch e := e.(type) {
			case *protocol.TextEdit:
				list = append(list, *e)
			case *protocol.AnnotatedTextEdit:
				list = append(list, e.TextEdit)
			}
		}
	}
	return list
}

// TestFixesInTheEditor applies each kind of fix to the demo and sees the note
// go, with and without late edits.
func TestFixesInTheEditor(t *testing.T) {
	for _, tune := range []func(*protocol.InitializeParams){fixing, plainFixing} {
		for _, tt := range []struct{ check, title string }{
			{"even-spacing", "Ease this run: "},
			{"frozen-hold", "Let the hold drift: "},
			{"same-frame", "Offset by 2 frames: "},
			{"pop", "Smooth this frame: "},
		} {
			e, u, content := opened(t, "deckhand_spline.usda", tune)
			before := e.settled(u, 1)
			a := titled(t, e.actions(u, before, tt.check), tt.title)
			if a.Edit == nil {
				var err error
				if a, err = e.server.CodeActionResolve(t.Context(), a); err != nil {
					t.Fatal(err)
				}
			}
			edits := editsOf(a.Edit, u)
			if len(edits) == 0 {
				t.Fatalf("%s: no edits in %+v", a.Title, a.Edit)
			}
			if len(a.Edit.DocumentChanges) > 0 && len(a.Edit.ChangeAnnotations) != 1 {
				t.Errorf("annotations: %+v", a.Edit.ChangeAnnotations)
			}
			e.change(u, 2, &protocol.TextDocumentContentChangeWholeDocument{Text: edited(t, content, edits)})
			after := e.settled(u, 2)
			if hasCode(after, tt.check) {
				t.Errorf("%s: still %v", a.Title, brief(after))
			}
		}
	}
}

// TestAllow allows a note in a curvelint.toml that exists, in one that does
// not, and by a comment.
func TestAllow(t *testing.T) {
	_, spline := demo(t, "deckhand_spline.usda")
	_, toml := demo(t, "curvelint.toml")
	for _, existing := range []string{toml, ""} {
		dir := t.TempDir()
		if existing != "" {
			write(t, dir, "curvelint.toml", existing)
		}
		u, conf := uri.File(write(t, dir, "shot.usda", spline)), uri.File(dir+"/curvelint.toml")
		e := start(t, func(p *protocol.InitializeParams) { fixing(p); inFolder(dir)(p) })
		e.open(u, spline)
		a := titled(t, e.actions(u, e.settled(u, 1), "even-spacing"), "Allow in curvelint.toml")
		if _, ok := a.Edit.DocumentChanges[0].(*protocol.CreateFile); ok == (existing != "") {
			t.Errorf("edit %+v", a.Edit.DocumentChanges)
		}
		after := edited(t, existing, editsOf(a.Edit, conf))
		write(t, dir, "curvelint.toml", after)
		e.watched(dir + "/curvelint.toml")
		e.await("the allowed note to go", func() bool {
			p := e.published[u]
			return p != nil && !slices.ContainsFunc(p.Diagnostics, func(d protocol.Diagnostic) bool {
				return d.Range == a.Diagnostics[0].Range && codeOf(&d) == "even-spacing"
			})
		})
		if p := e.published[conf]; p != nil && len(p.Diagnostics) > 0 {
			t.Errorf("the configuration has notes: %v\n%s", brief(p.Diagnostics), after)
		}
	}
	e, u, content := opened(t, "deckhand_spline.usda", fixing)
	a := titled(t, e.actions(u, e.settled(u, 1), "even-spacing"), "Allow here by a comment")
	e.change(u, 2, &protocol.TextDocumentContentChangeWholeDocument{Text: edited(t, content, editsOf(a.Edit, u))})
	if list := e.settled(u, 2); hasCode(list, "even-spacing") || hasCode(list, "unused-allow") {
		t.Errorf("after the comment: %v", brief(list))
	}
}

// TestOtherActions: numbers to copy and the check's document are offered, and
// an action that is out of date is refused.
func TestOtherActions(t *testing.T) {
	e, u, content := opened(t, "deckhand_spline.usda", fixing)
	list := e.actions(u, e.settled(u, 1), "even-spacing")
	c := titled(t, list, "Copy the new numbers").Command
	if _, err := e.server.ExecuteCommand(t.Context(), &protocol.ExecuteCommandParams{Command: c.Command, Arguments: c.Arguments}); err != nil {
		t.Fatal(err)
	}
	e.await("the numbers", func() bool { return len(e.messages) == 1 && strings.Contains(e.messages[0], "spacing a frame: 3.03") })
	c = titled(t, list, "Explain even-spacing").Command
	raw, err := e.server.ExecuteCommand(t.Context(), &protocol.ExecuteCommandParams{Command: c.Command, Arguments: c.Arguments})
	if err != nil || !strings.Contains(string(raw), "even") {
		t.Errorf("explained: %s, %v", raw, err)
	}
	ease := titled(t, list, "Ease this run")
	e.change(u, 2, &protocol.TextDocumentContentChangeWholeDocument{Text: content + "\n"})
	if _, err := e.server.CodeActionResolve(t.Context(), ease); err == nil {
		t.Error("an action for an older version was resolved")
	}
	only, err := e.server.CodeAction(t.Context(), &protocol.CodeActionParams{TextDocument: doc(u), Range: span(0, 0, 5000, 0),
		Context: protocol.CodeActionContext{Diagnostics: []protocol.Diagnostic{}, Only: []protocol.CodeActionKind{"source.organizeImports"}}})
	if err != nil || len(only) > 0 {
		t.Errorf("actions of another kind: %v, %v", only, err)
	}
}

// TestCommandsOnly: a client that knows actions only as commands gets those.
func TestCommandsOnly(t *testing.T) {
	e, u, _ := opened(t, "deckhand_spline.usda", nil)
	list := e.settled(u, 1)
	i := slices.IndexFunc(list, func(d protocol.Diagnostic) bool { return codeOf(&d) == "even-spacing" })
	all, err := e.server.CodeAction(t.Context(), &protocol.CodeActionParams{TextDocument: doc(u), Range: list[i].Range, Context: protocol.CodeActionContext{Diagnostics: list}})
	if err != nil {
		t.Fatal(err)
	}
	for _, a := range all {
		c, ok := a.(*protocol.Command)
		if !ok {
			t.Fatalf("%+v is no command", a)
		}
		if c.Command != commandFix {
			continue
		}
		raw, err := e.server.ExecuteCommand(t.Context(), &protocol.ExecuteCommandParams{Command: c.Command, Arguments: c.Arguments})
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
	e, u, text := opened(t, "deckhand_spline.usda", fixing)
	list := e.settled(u, 1)
	i := slices.IndexFunc(list, func(d protocol.Diagnostic) bool { return codeOf(&d) == "frozen-hold" })
	if i < 0 {
		t.Fatal("no hold is frozen")
	}
	offered := func(part string, frame int) bool {
		line := lineWith(t, text, `def Xform "`+part+`"`, fmt.Sprintf(" %d: ", frame))
		pos := at(line, strings.Index(strings.Split(text, "\n")[line], ": ")+3)
		all, err := e.server.CodeAction(t.Context(), &protocol.CodeActionParams{TextDocument: doc(u), Range: protocol.Range{Start: pos, End: pos}})
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
				t.Errorf("%s, frame %d: nothing lets the hold drift: %s", part, frame, messageOf(&list[i]))
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
