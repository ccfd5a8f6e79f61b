package feature

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"

	"go.lsp.dev/protocol"

	"curvelint/diagnostics"
	"curvelint/diagnostics/config"
	"curvelint/diagnostics/fixes"
	"curvelint/parse/text"
	"curvelint/server/show"
	"curvelint/server/workspace"
)

// allow returns the actions that allow the note: in the curvelint.toml, where
// it survives the next export, and in formats with comments here.
func (o *offer) allow() []protocol.CommandOrCodeAction {
	a, err := diagnostics.AllowanceFor(o.shot.Study, o.note, fixes.DefaultReason)
	if err != nil || !o.f.client.Abilities.ActionLiterals {
		return nil
	}
	inToml := o.action("Allow in curvelint.toml, with a reason")
	edit, reason := o.f.allowEdit(o.shot, &a)
	inToml.Edit = edit
	if o.f.client.Abilities.ShowDocument {
		args, _ := json.Marshal(reason)
		inToml.Command = protocol.Command{Title: "Write the reason", Command: show.CommandReveal, Arguments: []protocol.LSPAny{args}}
	}
	list := []protocol.CommandOrCodeAction{inToml}
	if e, ok := fixes.AllowComment(o.shot.Scene, &a, o.note.PartID); ok {
		here := o.action("Allow here by a comment, until the next export")
		here.Edit = o.f.workspaceEdit(o.shot, &fixes.Fix{Title: here.Title, Edits: []fixes.Edit{e}})
		list = append(list, here)
	}
	return list
}

// allowEdit returns the edit that adds an allowance to the curvelint.toml that
// governs a scene, or makes one, and where the reason will stand in it.
func (f *Features) allowEdit(shot *workspace.Shot, a *config.Allow) (*protocol.WorkspaceEdit, protocol.Location) {
	path, src := f.configFile(shot.Doc)
	x := text.NewIndex(src)
	u := f.session.URIOf(path)
	entry := fixes.AppendAllow(a, src)
	end := f.client.Position(x, len(src))
	_, err := os.Stat(path)
	edit := f.wrap("Allow "+a.Check, []fileEdits{{uri: u, version: f.versionOf(u), create: err != nil && f.versionOf(u) == nil,
		edits: []protocol.TextEdit{{Range: protocol.Range{Start: end, End: end}, NewText: entry}}}})

	after := text.NewIndex(append(append([]byte(nil), src...), entry...))
	start := len(src) + strings.LastIndex(entry, a.Why)
	return edit, protocol.Location{URI: u, Range: f.client.Range(after, start, start+len(a.Why))}
}

// configFile returns the path and the text of the curvelint.toml that governs
// a scene: of the one there will be when there is none, in the folder of the
// workspace.
func (f *Features) configFile(d *workspace.Doc) (string, []byte) {
	if d.Config.File != nil {
		path := d.Config.File.Path
		if open := f.session.Snapshot().ByPath(path); open != nil {
			return path, open.Text()
		}
		return path, d.Config.File.Text
	}
	folder, _ := f.session.FolderOf(d.Path)
	return filepath.Join(folder, config.FileName), nil
}
