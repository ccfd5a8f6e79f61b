package feature

import (
	"cmp"
	"context"
	"slices"

	"go.lsp.dev/protocol"

	"curvelint/parse/scene"
	"curvelint/parse/text"
	"curvelint/server/workspace"
)

// The kinds of tokens, indices into TokenTypes.
const (
	partToken    = iota // the name of a part
	channelToken        // the header of a channel
	numberToken         // a key's number
	frameToken          // the frame of a line of keys
	commentToken        // a line of comment
)

// TokenTypes and TokenModifiers are the legend. Keys that carry notes are
// marked as noted; themes that know no such mark show them as numbers.
var (
	TokenTypes     = []string{"class", "property", "number", "enumMember", "comment"}
	TokenModifiers = []string{"noted"}
)

// manyNumbers is the size of a text, in bytes, beyond which numbers are marked
// only in the range that is in sight.
const manyNumbers = 1 << 20

// token is a marked stretch of one line.
type token struct {
	start, end int // offsets
	kind       uint32
	noted      uint32
}

// SemanticTokensFull marks names, frames and keys in the whole text.
func (f *Features) SemanticTokensFull(ctx context.Context, p *protocol.SemanticTokensParams) (*protocol.SemanticTokens, error) {
	shot, err := f.session.ShotAt(ctx, p.TextDocument.URI)
	if shot == nil {
		return nil, err
	}
	n := len(shot.Doc.Text())
	return f.tokens(shot, 0, n, n <= manyNumbers), nil
}

// SemanticTokensRange marks names, frames and keys in a range.
func (f *Features) SemanticTokensRange(ctx context.Context, p *protocol.SemanticTokensRangeParams) (*protocol.SemanticTokens, error) {
	shot, err := f.session.ShotAt(ctx, p.TextDocument.URI)
	if shot == nil {
		return nil, err
	}
	x := shot.Doc.Index
	return f.tokens(shot, f.client.Offset(x, p.Range.Start), f.client.Offset(x, p.Range.End), true), nil
}

// tokens returns the tokens between two offsets, encoded relative to one
// another as the protocol asks for.
func (f *Features) tokens(shot *workspace.Shot, start, end int, numbers bool) *protocol.SemanticTokens {
	list := marked(shot, start, end, numbers)
	slices.SortFunc(list, func(a, b token) int {
		return cmp.Or(cmp.Compare(a.start, b.start), cmp.Compare(b.noted, a.noted), cmp.Compare(a.kind, b.kind))
	})
	data := make([]uint32, 0, 5*len(list))
	var before protocol.Position
	done := -1 // no token may overlap another
	for _, k := range list {
		if k.start < done || k.start < start || k.end > end {
			continue
		}
		from, to := f.client.Position(shot.Doc.Index, k.start), f.client.Position(shot.Doc.Index, k.end)
		if from.Line != to.Line || from == to {
			continue
		}
		column := from.Character
		if from.Line == before.Line {
			column -= before.Character
		}
		data = append(data, from.Line-before.Line, column, to.Character-from.Character, k.kind, k.noted)
		before, done = from, k.end
	}
	return &protocol.SemanticTokens{Data: data}
}

// marked returns what is marked between two offsets, in any order.
func marked(shot *workspace.Shot, start, end int, numbers bool) []token {
	var list []token
	add := func(at scene.Span, kind, noted uint32) {
		if at.File == 0 && !at.Empty() && int(at.Start) < end && int(at.End) > start {
			list = append(list, token{int(at.Start), int(at.End), kind, noted})
		}
	}
	for i := range shot.Scene.Parts {
		add(shot.Scene.Parts[i].NameSpan, partToken, 0)
	}
	seen := map[scene.Span]bool{}
	for i := range shot.Scene.Channels {
		if at := shot.Scene.Channels[i].Def; !seen[at] {
			seen[at] = true
			add(at, channelToken, 0)
		}
	}
	for i := range shot.Notes {
		if n := &shot.Notes[i]; n.HasFrames() {
			add(n.Span, numberToken, 1)
		}
	}
	if !numbers {
		return list
	}
	x := shot.Doc.Index
	for line := x.Line(start); line <= x.Line(end); line++ {
		a, b := x.Bounds(line)
		list = lineTokens(list, shot, x, a, b)
	}
	return list
}

// lineTokens appends the keys of a line, and the number in front of them: the
// frame that a format writes there.
func lineTokens(list []token, shot *workspace.Shot, x *text.Index, start, end int) []token {
	before := len(list)
	first := end
	for p := range shot.Lookup.KeysIn(0, start, end) {
		list = append(list, token{int(p.Span.Start), int(p.Span.End), numberToken, 0})
		first = min(first, int(p.Span.Start))
	}
	if len(list) == before {
		return append(list, comment(x.Text(), start, end)...)
	}
	src := x.Text()
	i := start
	for i < first && (src[i] == ' ' || src[i] == '\t') {
		i++
	}
	j := i
	for j < first && (src[j] >= '0' && src[j] <= '9' || src[j] == '.' || src[j] == '-') {
		j++
	}
	if j > i {
		list = append(list, token{i, j, frameToken, 0})
	}
	return list
}

// comment returns a line that is nothing but a comment as one token.
func comment(src []byte, start, end int) []token {
	for start < end && (src[start] == ' ' || src[start] == '\t') {
		start++
	}
	if start < end && src[start] == '#' {
		return []token{{start, end, commentToken, 0}}
	}
	return nil
}
