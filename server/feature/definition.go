package feature

import (
	"context"

	"go.lsp.dev/protocol"

	"curvelint/parse/scene"
	"curvelint/server/workspace"
)

// Definition leads from a key to the header of its channel, from a channel to
// its part, and from a part to the first keys that move it.
func (f *Features) Definition(ctx context.Context, p *protocol.DefinitionParams) (protocol.DefinitionResult, error) {
	r, err := f.session.ReadAt(ctx, p.TextDocument.URI)
	if r == nil {
		return nil, err
	}
	l := r.Lookup
	var list protocol.LocationSlice
	for _, at := range definitions(l, f.client.Offset(r.Doc.Index, p.Position)) {
		list = append(list, f.client.Location(f.session.Files(r), at))
	}
	return list, nil
}

// definitions returns where the definition of what is at an offset lies.
func definitions(l *workspace.Lookup, offset int) []scene.Span {
	sc := l.Scene
	if place, ok := l.KeyAt(0, offset); ok {
		return []scene.Span{sc.Channels[place.Channel].Def}
	}
	if id := l.HeaderAt(0, offset); id != scene.NoPart {
		return firstKeys(sc, id)
	}
	if id := l.ChannelAt(0, offset); id != scene.NoChannel {
		p := &sc.Parts[sc.Channels[id].Part]
		return []scene.Span{inner(p.NameSpan, p.Def)}
	}
	return nil
}

// firstKeys returns where the first key of each of a part's channels is, once
// for each block.
func firstKeys(sc *scene.Scene, part scene.PartID) []scene.Span {
	var spans []scene.Span
	seen := map[scene.Span]bool{}
	for id := range sc.Channels {
		c := &sc.Channels[id]
		if c.Part != part || c.Curve.Len() == 0 || seen[c.Def] {
			continue
		}
		seen[c.Def] = true
		spans = append(spans, sc.KeySpan(scene.ChannelID(id), 0, 0))
	}
	return spans
}
