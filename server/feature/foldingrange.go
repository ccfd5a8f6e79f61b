package feature

import (
	"cmp"
	"context"
	"slices"

	"go.lsp.dev/protocol"

	"curvelint/parse/scene"
)

// FoldingRanges folds parts and the animation of channels. What they fold
// depends on the text alone, so it is there before the study is.
func (f *Features) FoldingRanges(ctx context.Context, p *protocol.FoldingRangeParams) ([]protocol.FoldingRange, error) {
	r, err := f.session.ReadAt(ctx, p.TextDocument.URI)
	if r == nil {
		return nil, err
	}
	var spans []scene.Span
	for i := range r.Scene.Parts {
		spans = append(spans, r.Scene.Parts[i].Body)
	}
	for i := range r.Scene.Channels {
		spans = append(spans, r.Scene.Channels[i].Block)
	}
	var list []protocol.FoldingRange
	for _, at := range spans {
		if at.File != 0 || at.Empty() {
			continue
		}
		first, last := r.Doc.Index.Line(int(at.Start)), r.Doc.Index.Line(int(at.End)-1)
		if f.client.Abilities.WholeLineFold && closes(r.Doc.Text(), at) {
			last-- // the closing bracket stays in sight
		}
		if last > first {
			list = append(list, protocol.FoldingRange{StartLine: uint32(first), EndLine: uint32(last), Kind: protocol.FoldingRangeKindRegion})
		}
	}
	return outermost(list, f.client.Abilities.FoldLimit), nil
}

// closes reports whether a span ends with a closing bracket.
func closes(text []byte, at scene.Span) bool {
	switch text[at.End-1] {
	case '}', ']', ')':
		return true
	}
	return false
}

// outermost orders ranges by their first line, the longer first, each once. If
// there are more than limit (0 for no limit) the shortest go.
func outermost(list []protocol.FoldingRange, limit int) []protocol.FoldingRange {
	byStart := func(a, b protocol.FoldingRange) int {
		return cmp.Or(cmp.Compare(a.StartLine, b.StartLine), cmp.Compare(b.EndLine, a.EndLine))
	}
	slices.SortFunc(list, byStart)
	list = slices.CompactFunc(list, func(a, b protocol.FoldingRange) bool {
		return a.StartLine == b.StartLine && a.EndLine == b.EndLine
	})
	if limit > 0 && len(list) > limit {
		slices.SortStableFunc(list, func(a, b protocol.FoldingRange) int {
			return cmp.Compare(b.EndLine-b.StartLine, a.EndLine-a.StartLine)
		})
		list = list[:limit]
		slices.SortFunc(list, byStart)
	}
	return list
}
