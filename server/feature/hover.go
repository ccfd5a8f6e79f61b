package feature

import (
	"context"

	"go.lsp.dev/protocol"

	"curvelint/parse/scene"
	"curvelint/server/show"
	"curvelint/server/workspace"
)

// Hover tells what there is to know of the key under the cursor; on a header,
// of the channel or part.
func (f *Features) Hover(ctx context.Context, p *protocol.HoverParams) (*protocol.Hover, error) {
	shot, err := f.session.ShotAt(ctx, p.TextDocument.URI)
	if shot == nil {
		return nil, err
	}
	at := f.client.Offset(shot.Doc.Index, p.Position)
	seen := shown(shot)
	var sheet *show.Sheet
	var where scene.Span
	if place, ok := shot.Lookup.KeyAt(0, at); ok {
		seen.Earlier = f.judging.SinceEarlier(ctx, shot)
		sheet, where = seen.HoverKey(place.Channel, place.Key, place.Component, f.images()), place.Span
	} else if id := shot.Lookup.HeaderAt(0, at); id != scene.NoPart {
		seen.Earlier = f.judging.SinceEarlier(ctx, shot)
		sheet, where = seen.HoverPart(id), shot.Scene.Parts[id].Def
	} else if id := channelOn(shot, at); id != scene.NoChannel {
		seen.Earlier = f.judging.SinceEarlier(ctx, shot)
		sheet, where = seen.HoverChannel(id), shot.Scene.Channels[id].Def
	} else {
		return nil, nil
	}
	r := f.client.Span(shot.Lookup, where)
	return &protocol.Hover{Contents: sheet.Content(f.client.Abilities.Markdown), Range: &r}, nil
}

// images are the pictures that the client shows in a hover.
func (f *Features) images() show.Images {
	can := &f.client.Abilities
	return show.Images{Shown: can.Images && can.Markdown, Dark: can.Dark}
}

// channelOn returns the channel whose header begins on the line of an offset, or
// NoChannel.
func channelOn(shot *workspace.Shot, at int) scene.ChannelID {
	id := shot.Lookup.ChannelAt(0, at)
	if id == scene.NoChannel {
		return id
	}
	c := &shot.Scene.Channels[id]
	x := shot.Doc.Index
	if c.Def.File != 0 || c.Def.Empty() || c.Curve.Len() == 0 || x.Line(int(c.Def.Start)) != x.Line(at) {
		return scene.NoChannel
	}
	return id
}
