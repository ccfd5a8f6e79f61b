package feature

import (
	"context"
	"slices"
	"strings"

	"go.lsp.dev/protocol"

	"curvelint/diagnostics/checks"
	"curvelint/diagnostics/checks/kit"
	"curvelint/diagnostics/fixes"
	"curvelint/diagnostics/note"
	"curvelint/server/show"
	"curvelint/server/wire"
	"curvelint/server/workspace"
)

// CodeAction offers fixes for the notes in a range: edits of the keys, each
// with a preview in its title, allowances, and what leads further.
func (f *Features) CodeAction(ctx context.Context, p *protocol.CodeActionParams) ([]protocol.CommandOrCodeAction, error) {
	if !wants(p.Context.Only, protocol.CodeActionKindQuickFix) {
		return nil, nil
	}
	shot, err := f.session.ShotAt(ctx, p.TextDocument.URI)
	if shot == nil {
		return nil, err
	}
	var list []protocol.CommandOrCodeAction
	inside := f.holdsAt(shot, p.Range.Start)
	for i := range shot.Notes {
		n := &shot.Notes[i]
		if n.Span.File != 0 || !wire.Touch(f.client.Span(shot.Lookup, n.Span), p.Range) && !inside(n) {
			continue
		}
		o := offer{f: f, shot: shot, note: n, diagnostic: show.Diagnostic(f.client, f.session.Files(shot.Read), n)}
		list = append(list, o.all()...)
	}
	return list, nil
}

// CodeActionResolve makes the edit of an action that was offered without it.
func (f *Features) CodeActionResolve(ctx context.Context, a *protocol.CodeAction) (*protocol.CodeAction, error) {
	var data show.FixArguments
	if err := show.ReadArguments(a.Data, &data, "an action of this server"); err != nil {
		return nil, err
	}
	shot, err := f.OpenShot(ctx, data.URI)
	if err != nil {
		return nil, err
	}
	i := slices.IndexFunc(shot.Notes, func(n note.Note) bool { return data.Note.Of(&n) })
	if i < 0 || shot.Doc.Version != data.Version {
		return nil, protocol.ErrContentModified
	}
	for _, fix := range fixes.For(shot.Study, &shot.Notes[i]) {
		if fix.ID == data.Fix {
			a.Edit = f.workspaceEdit(shot, &fix)
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

// holdsAt returns which notes on holds are about the key at a position. A hold is not
// one key but all of its frames, so that its fixes are offered at each.
func (f *Features) holdsAt(shot *workspace.Shot, at protocol.Position) func(n *note.Note) bool {
	place, ok := shot.Lookup.KeyAt(0, f.client.Offset(shot.Doc.Index, at))
	if !ok {
		return func(*note.Note) bool { return false }
	}
	c := &shot.Scene.Channels[place.Channel]
	frame := c.Curve.Times[place.Key]
	return func(n *note.Note) bool {
		k := checks.Find(n.Check)
		return k != nil && k.Group == kit.Holds && n.First <= frame && frame <= n.Last &&
			(shown(shot).Concerns(n, c.Part) || shot.Study.IsAncestor(n.PartID, c.Part))
	}
}
