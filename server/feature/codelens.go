package feature

import (
	"context"
	"encoding/json"
	"fmt"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"curvelint/parse/scene"
	"curvelint/server/show"
	"curvelint/server/workspace"
)

// lensData names the part that a lens stands over, or the whole file.
type lensData struct {
	URI  uri.URI      `json:"uri"`
	Part scene.PartID `json:"part"`
	File bool         `json:"file,omitempty"`
}

// CodeLens puts a lens over each part that moves, and over the file what leads
// further. What a lens says is worked out when it comes into sight.
func (f *Features) CodeLens(ctx context.Context, p *protocol.CodeLensParams) ([]protocol.CodeLens, error) {
	if !f.Lenses.Load() {
		return nil, nil
	}
	shot, err := f.session.ShotAt(ctx, p.TextDocument.URI)
	if shot == nil {
		return nil, err
	}
	list, err := f.fileLenses(shot)
	if err != nil {
		return nil, err
	}
	for id := range shot.Scene.Parts {
		part := &shot.Scene.Parts[id]
		if part.Def.File != 0 || !shot.Study.Moves(scene.PartID(id)) && len(shot.Study.Channels(scene.PartID(id))) == 0 {
			continue
		}
		data, err := json.Marshal(lensData{URI: p.TextDocument.URI, Part: scene.PartID(id)})
		if err != nil {
			return nil, err
		}
		list = append(list, protocol.CodeLens{Range: f.client.Span(shot.Lookup, inner(part.NameSpan, part.Def)), Data: data})
	}
	return list, nil
}

// CodeLensResolve says what a lens says: the notes on a part, its biggest move,
// and what changed since the earlier pass. It leads to where that move begins.
func (f *Features) CodeLensResolve(ctx context.Context, l *protocol.CodeLens) (*protocol.CodeLens, error) {
	var data lensData
	if err := json.Unmarshal(l.Data, &data); err != nil {
		return nil, fmt.Errorf("expected a lens of this server: %w", err)
	}
	shot, err := f.session.ShotAt(ctx, data.URI)
	if err != nil {
		return nil, err
	}
	if shot == nil || !data.File && (data.Part < 0 || int(data.Part) >= len(shot.Scene.Parts)) {
		return nil, protocol.ErrContentModified
	}
	if data.File {
		l.Command, err = f.compareLens(ctx, shot)
		return l, err
	}
	over := shown(shot)
	over.Earlier = f.judging.SinceEarlier(ctx, shot)
	title, first := over.Lens(data.Part)
	args, err := json.Marshal(show.FrameArguments{URI: data.URI, Frame: first, Part: shot.Scene.Parts[data.Part].Path})
	if err != nil {
		return nil, err
	}
	l.Command = protocol.Command{Title: title, Command: show.CommandFrame, Arguments: []protocol.LSPAny{args}}
	return l, nil
}

// fileLenses are those over the first line: the page, and what changed since the
// earlier pass if there is one.
func (f *Features) fileLenses(shot *workspace.Shot) (list []protocol.CodeLens, err error) {
	if shot.Foreign() {
		return nil, nil
	}
	top := f.client.Range(shot.Lookup.Index(0), 0, 0)
	if f.client.Abilities.ShowDocument {
		args, err := json.Marshal(show.PageArguments{URI: shot.Doc.URI})
		if err != nil {
			return nil, err
		}
		list = append(list, protocol.CodeLens{Range: top, Command: protocol.Command{
			Title: "open as a page", Command: show.CommandPage, Arguments: []protocol.LSPAny{args}}})
	}
	if _, ok := f.session.EarlierPath(shot.Doc); ok {
		data, err := json.Marshal(lensData{shot.Doc.URI, scene.NoPart, true})
		if err != nil {
			return nil, err
		}
		list = append(list, protocol.CodeLens{Range: top, Data: data})
	}
	return list, nil
}

// compareLens says in a few words what changed since the earlier pass, and leads
// to the rest.
func (f *Features) compareLens(ctx context.Context, shot *workspace.Shot) (protocol.Command, error) {
	path, _ := f.session.EarlierPath(shot.Doc)
	over := shown(shot)
	over.Earlier = f.judging.SinceEarlier(ctx, shot)
	args, err := json.Marshal(show.CompareArguments{URI: shot.Doc.URI})
	return protocol.Command{Title: over.CompareLens(path), Command: show.CommandCompare, Arguments: []protocol.LSPAny{args}}, err
}
