package server

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"curvelint/diagnostics"
	"curvelint/diagnostics/checks"
	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/fixes"
	"curvelint/diagnostics/note"
	"curvelint/diagnostics/words"
	"curvelint/server/workspace"
)

// actionData comes back with an action whose edit the client asks for late.
type actionData struct {
	URI     uri.URI  `json:"uri"`
	Version int32    `json:"version"`
	Note    noteData `json:"note"`
	Fix     string   `json:"fix"`
}

// CodeAction offers fixes for the notes in a range: edits of the keys, each
// with a preview in its title, allowances, and what leads further.
func (s *Server) CodeAction(ctx context.Context, p *protocol.CodeActionParams) ([]protocol.CommandOrCodeAction, error) {
	if !wants(p.Context.Only, protocol.CodeActionKindQuickFix) {
		return nil, nil
	}
	shot, err := s.shot(ctx, p.TextDocument.URI)
	if shot == nil {
		return nil, err
	}
	var list []protocol.CommandOrCodeAction
	inside := s.holdsAt(shot, p.Range.Start)
	for i := range shot.Notes {
		n := &shot.Notes[i]
		if n.Span.File != 0 || !touches(s.spanRange(shot.Lookup, n.Span), p.Range) && !inside(n) {
			continue
		}
		a := offer{s: s, shot: shot, note: n, told: s.diagnostic(shot.Read, n)}
		list = append(list, a.all()...)
	}
	return list, nil
}

// CodeActionResolve makes the edit of an action that was offered without it.
func (s *Server) CodeActionResolve(ctx context.Context, a *protocol.CodeAction) (*protocol.CodeAction, error) {
	var data actionData
	if err := arguments(a.Data, &data, "an action of this server"); err != nil {
		return nil, err
	}
	shot, err := s.sceneOf(ctx, data.URI)
	if err != nil {
		return nil, err
	}
	n := findNote(shot, &data.Note)
	if n == nil || shot.Doc.Version != data.Version {
		return nil, protocol.ErrContentModified
	}
	for _, f := range fixes.For(shot.Study, n) {
		if f.ID == data.Fix {
			a.Edit = s.workspaceEdit(shot, &f)
			return a, nil
		}
	}
	return nil, protocol.ErrContentModified
}

// wants reports whether a client that asks for some kinds of actions takes the
// given one.
func wants(only []protocol.CodeActionKind, kind protocol.CodeActionKind) bool {
	return len(only) == 0 || slices.ContainsFunc(only, func(k protocol.CodeActionKind) bool {
		return k == kind || strings.HasPrefix(string(kind), string(k)+".") || k == ""
	})
}

// touches reports whether two ranges share a place; ends count.
func touches(a, b protocol.Range) bool {
	return comparePositions(a.Start, b.End) <= 0 && comparePositions(b.Start, a.End) <= 0
}

// holdsAt returns which notes on holds are about the key at a position. A hold is not
// one key but all of its frames, so that its fixes are offered at each.
func (s *Server) holdsAt(shot *workspace.Shot, at protocol.Position) func(n *note.Note) bool {
	place, ok := shot.Lookup.KeyAt(0, s.offset(shot.Doc.Index, at))
	if !ok {
		return func(*note.Note) bool { return false }
	}
	c := &shot.Scene.Channels[place.Channel]
	frame := c.Curve.Times[place.Key]
	return func(n *note.Note) bool {
		k := checks.Find(n.Check)
		return k != nil && k.Group == kit.Holds && n.First <= frame && frame <= n.Last &&
			(concerns(shot, n, c.Part) || shot.Study.IsAncestor(n.PartID, c.Part))
	}
}

// findNote returns the note that a client speaks of.
func findNote(shot *workspace.Shot, d *noteData) *note.Note {
	for i := range shot.Notes {
		n := &shot.Notes[i]
		if n.Check == d.Check && n.Part == d.Part && n.First == d.First && n.Last == d.Last {
			return n
		}
	}
	return nil
}

// offer makes the actions for one note.
type offer struct {
	s    *Server
	shot *workspace.Shot
	note *note.Note
	told protocol.Diagnostic
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
			list = append(list, o.command("Copy the new numbers, to retype them", commandCopy, copyArguments{mended[i].Numbers}))
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
	if n := o.note; n.HasFrames() && n.PartID >= 0 && o.s.can.showDocument {
		if a, ok := chartFor(o.shot, n); ok {
			list = append(list, o.command(fmt.Sprintf("Show the %s of %s", chartNames[a.Kind], words.Span(a.First, a.Last)), commandChart, a))
		}
		list = append(list, o.command("Open the page at this note", commandPage, pageArguments{o.shot.Doc.URI, n.First, n.Part, n.Check}))
	}
	return append(list, o.command("Explain "+o.note.Check, commandExplain, explainArguments{o.note.Check}))
}

// chartNames say what a kind of chart shows.
var chartNames = map[string]string{"spacing": "spacing", "arc": "arc", "timeline": "timeline", "speed": "speeds"}

// action returns an action of a title that is about the note.
func (o *offer) action(title string) *protocol.CodeAction {
	return &protocol.CodeAction{Title: title, Kind: new(protocol.CodeActionKindQuickFix), Diagnostics: []protocol.Diagnostic{o.told}}
}

// command returns an action that only executes a command.
func (o *offer) command(title, command string, argument any) protocol.CommandOrCodeAction {
	args, _ := json.Marshal(argument)
	c := protocol.Command{Title: title, Command: command, Arguments: []protocol.LSPAny{args}}
	if !o.s.can.actionLiterals {
		return &c
	}
	a := o.action(title)
	a.Command = c
	return a
}

// fix returns the action for a fix; nil when the client cannot show it.
func (o *offer) fix(f *fixes.Fix) protocol.CommandOrCodeAction {
	data := actionData{o.shot.Doc.URI, o.shot.Doc.Version, noteData{o.note.Check, o.note.Part, o.note.First, o.note.Last}, f.ID}
	switch {
	case len(f.Edits) == 0 && (f.Refused == "" || !o.s.can.disabledActions || !o.s.can.actionLiterals):
		return nil
	case !o.s.can.actionLiterals:
		return o.command(f.Title, commandFix, data)
	}
	a := o.action(f.Title)
	if f.Refused != "" {
		a.Disabled = protocol.CodeActionDisabled{Reason: f.Refused}
		return a
	}
	if f.Preferred && o.s.can.preferredActions {
		a.IsPreferred = new(true)
	}
	if o.s.can.resolvesEdits {
		a.Data, _ = json.Marshal(data)
	} else {
		a.Edit = o.s.workspaceEdit(o.shot, f)
	}
	return a
}

// allow returns the actions that allow the note: in the curvelint.toml, where
// it survives the next export, and in formats with comments here.
func (o *offer) allow() []protocol.CommandOrCodeAction {
	a, err := diagnostics.AllowanceFor(o.shot.Study, o.note, fixes.DefaultReason)
	if err != nil || !o.s.can.actionLiterals {
		return nil
	}
	inToml := o.action("Allow in curvelint.toml, with a reason")
	edit, reason := o.s.allowEdit(o.shot, &a)
	inToml.Edit = edit
	if o.s.can.showDocument {
		args, _ := json.Marshal(reason)
		inToml.Command = protocol.Command{Title: "Write the reason", Command: commandReveal, Arguments: []protocol.LSPAny{args}}
	}
	list := []protocol.CommandOrCodeAction{inToml}
	if e, ok := fixes.AllowComment(o.shot.Scene, &a, o.note.PartID); ok {
		here := o.action("Allow here by a comment, until the next export")
		here.Edit = o.s.workspaceEdit(o.shot, &fixes.Fix{Title: here.Title, Edits: []fixes.Edit{e}})
		list = append(list, here)
	}
	return list
}
