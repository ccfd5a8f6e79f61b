package feature

import (
	"cmp"
	"context"
	"slices"

	"go.lsp.dev/protocol"

	"curvelint/parse/scene"
	"curvelint/server/workspace"
)

// SelectionRange widens a selection from a number to its line, its channel's
// animation, its part, the parts above, and the file.
func (f *Features) SelectionRange(ctx context.Context, p *protocol.SelectionRangeParams) ([]protocol.SelectionRange, error) {
	r, err := f.session.ReadAt(ctx, p.TextDocument.URI)
	if r == nil {
		return nil, err
	}
	l := r.Lookup
	list := make([]protocol.SelectionRange, 0, len(p.Positions))
	for _, pos := range p.Positions {
		at := f.client.Offset(r.Doc.Index, pos)
		var chain *protocol.SelectionRange
		for _, sp := range around(l, at) {
			chain = &protocol.SelectionRange{Range: f.client.Span(l, sp), Parent: chain}
		}
		list = append(list, *chain)
	}
	return list, nil
}

// around returns the spans of file 0 that hold an offset, from the whole text
// inwards, each inside the one before it.
func around(l *workspace.Lookup, offset int) []scene.Span {
	x := l.Index(0)
	spans := []scene.Span{{End: uint32(len(x.Text()))}}
	add := func(at scene.Span) {
		if holdsOffset(at, offset) {
			spans = append(spans, at)
		}
	}
	for i := range l.Scene.Parts {
		add(l.Scene.Parts[i].Body)
		add(l.Scene.Parts[i].NameSpan)
	}
	for i := range l.Scene.Channels {
		add(l.Scene.Channels[i].Block)
		add(l.Scene.Channels[i].Def)
	}
	start, end := x.Bounds(x.Line(offset))
	for start < end && (x.Text()[start] == ' ' || x.Text()[start] == '\t') {
		start++
	}
	add(scene.Span{Start: uint32(start), End: uint32(end)})
	if place, ok := l.KeyAt(0, offset); ok {
		add(place.Span)
	}
	slices.SortStableFunc(spans, func(a, b scene.Span) int { return cmp.Compare(b.End-b.Start, a.End-a.Start) })
	nested := spans[:1]
	for _, at := range spans[1:] {
		outer := nested[len(nested)-1]
		if at != outer && at.Start >= outer.Start && at.End <= outer.End {
			nested = append(nested, at)
		}
	}
	return nested
}

func holdsOffset(at scene.Span, offset int) bool {
	return at.File == 0 && !at.Empty() && int(at.Start) <= offset && offset <= int(at.End)
}
