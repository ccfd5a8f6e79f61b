package feature

import (
	"context"
	"sort"

	"go.lsp.dev/protocol"

	"curvelint/parse/scene"
	"curvelint/server/workspace"
)

// maxSameFrame bounds how many keys on one frame are listed.
const maxSameFrame = 2000

// References lists, for a key, every key on the same frame; for a part, the
// headers of its channels.
func (f *Features) References(ctx context.Context, p *protocol.ReferenceParams) ([]protocol.Location, error) {
	r, err := f.session.ReadAt(ctx, p.TextDocument.URI)
	if r == nil {
		return nil, err
	}
	l := r.Lookup
	var list []protocol.Location
	for _, at := range related(l, f.client.Offset(r.Doc.Index, p.Position)) {
		list = append(list, f.client.Location(f.session.Files(r), at))
	}
	return list, nil
}

// DocumentHighlight marks, for a key, the keys on the same frame; for a part,
// its channels, as far as they are in the same document.
func (f *Features) DocumentHighlight(ctx context.Context, p *protocol.DocumentHighlightParams) ([]protocol.DocumentHighlight, error) {
	r, err := f.session.ReadAt(ctx, p.TextDocument.URI)
	if r == nil {
		return nil, err
	}
	l := r.Lookup
	var list []protocol.DocumentHighlight
	for _, at := range related(l, f.client.Offset(r.Doc.Index, p.Position)) {
		if at.File == 0 {
			list = append(list, protocol.DocumentHighlight{Range: f.client.Span(l, at), Kind: protocol.DocumentHighlightKindText})
		}
	}
	return list, nil
}

// related returns the places that belong together with what is at an offset.
func related(l *workspace.Lookup, offset int) []scene.Span {
	if place, ok := l.KeyAt(0, offset); ok {
		return sameFrame(l.Scene, l.Scene.Channels[place.Channel].Curve.Times[place.Key])
	}
	id := l.PartAt(0, offset)
	if id == scene.NoPart {
		return nil
	}
	var spans []scene.Span
	for i := range l.Scene.Channels {
		if c := &l.Scene.Channels[i]; c.Part == id && (len(spans) == 0 || spans[len(spans)-1] != c.Def) {
			spans = append(spans, c.Def)
		}
	}
	return spans
}

// sameFrame returns the places of all keys on a frame, each once.
func sameFrame(sc *scene.Scene, frame float64) []scene.Span {
	var spans []scene.Span
	seen := map[scene.Span]bool{}
	for id := range sc.Channels {
		c := &sc.Channels[id].Curve
		i := sort.SearchFloat64s(c.Times, frame)
		if i == len(c.Times) || c.Times[i] != frame || c.Spans == nil {
			continue
		}
		at := sc.KeySpan(scene.ChannelID(id), i, 0)
		if !seen[at] {
			seen[at] = true
			spans = append(spans, at)
		}
		if len(spans) == maxSameFrame {
			break
		}
	}
	return spans
}
