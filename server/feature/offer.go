package feature

import (
	"encoding/json"

	"go.lsp.dev/protocol"

	"curvelint/diagnostics/fixes"
	"curvelint/diagnostics/note"
	"curvelint/server/show"
	"curvelint/server/workspace"
)

// offer makes the actions for one note.
type offer struct {
	f    *Features
	shot *workspace.Shot
	note *note.Note
	// diagnostic is the note as the client knows it.
	diagnostic protocol.Diagnostic
}

func (o *offer) all() []protocol.CommandOrCodeAction {
	var list []protocol.CommandOrCodeAction
	mended := fixes.For(o.shot.Study, o.note)
	for i := range mended {
		if a := o.fix(&mended[i]); a != nil {
			list = append(list, a)
		}
	}
	for i := range mended {
		if mended[i].Numbers != "" {
			list = append(list, o.command("Copy the new numbers, to retype them", show.CommandCopy, show.CopyArguments{Text: mended[i].Numbers}))
			break // the others are variants of the same
		}
	}
	if o.note.PartID >= 0 {
		list = append(list, o.allow()...)
	}
	return append(list, o.further()...)
}

// further returns the actions that lead to a picture of what the note is about
// and to the document of its check.
func (o *offer) further() []protocol.CommandOrCodeAction {
	var list []protocol.CommandOrCodeAction
	if n := o.note; n.HasFrames() && n.PartID >= 0 && o.f.client.Abilities.ShowDocument {
		if a, ok := show.ChartFor(o.shot.Study, o.shot.Doc.URI, n); ok {
			list = append(list, o.command(show.ChartTitle(&a), show.CommandChart, a))
		}
		list = append(list, o.command("Open the page at this note", show.CommandPage, show.PageArguments{URI: o.shot.Doc.URI, Frame: n.First, Part: n.Part, Check: n.Check}))
	}
	return append(list, o.command("Explain "+o.note.Check, show.CommandExplain, show.ExplainArguments{Check: o.note.Check}))
}

// action returns an action of a title that is about the note.
func (o *offer) action(title string) *protocol.CodeAction {
	return &protocol.CodeAction{Title: title, Kind: new(protocol.CodeActionKindQuickFix), Diagnostics: []protocol.Diagnostic{o.diagnostic}}
}

// command returns an action that only executes a command.
func (o *offer) command(title, command string, argument any) protocol.CommandOrCodeAction {
	args, _ := json.Marshal(argument)
	c := protocol.Command{Title: title, Command: command, Arguments: []protocol.LSPAny{args}}
	if !o.f.client.Abilities.ActionLiterals {
		return &c
	}
	a := o.action(title)
	a.Command = c
	return a
}

// fix returns the action for a fix; nil when the client cannot show it.
func (o *offer) fix(f *fixes.Fix) protocol.CommandOrCodeAction {
	data := show.FixArguments{URI: o.shot.Doc.URI, Version: o.shot.Doc.Version, Note: show.DataOf(o.note), Fix: f.ID}
	switch {
	case len(f.Edits) == 0 && (f.Refused == "" || !o.f.client.Abilities.DisabledActions || !o.f.client.Abilities.ActionLiterals):
		return nil
	case !o.f.client.Abilities.ActionLiterals:
		return o.command(f.Title, show.CommandFix, data)
	}
	a := o.action(f.Title)
	if f.Refused != "" {
		a.Disabled = protocol.CodeActionDisabled{Reason: f.Refused}
		return a
	}
	if f.Preferred && o.f.client.Abilities.PreferredActions {
		a.IsPreferred = new(true)
	}
	if o.f.client.Abilities.ResolvesEdits {
		a.Data, _ = json.Marshal(data)
	} else {
		a.Edit = o.f.workspaceEdit(o.shot, f)
	}
	return a
}
