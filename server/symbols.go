package server

import (
	"context"
	"strconv"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"curvelint/diagnostics/facts"
	"curvelint/diagnostics/words"
	"curvelint/parse/scene"
	"curvelint/server/workspace"
)

// maxSymbols bounds the moves and holds listed for one scene; every part has its
// share of them, so that the last ones are not left without.
const maxSymbols = 2000

// DocumentSymbol lists the parts of a scene, in each its channels and what it
// does: moves and holds with their frames. A client that knows no nesting is
// given the same as a flat list.
func (s *Server) DocumentSymbol(ctx context.Context, p *protocol.DocumentSymbolParams) (protocol.DocumentSymbolResult, error) {
	tree, err := s.symbols(ctx, p)
	if tree == nil {
		return nil, err
	}
	var tops protocol.DocumentSymbolSlice
	if err := protocol.Unmarshal(tree, &tops); err != nil {
		return nil, err
	}
	if s.can.nestedSymbols {
		return tops, nil
	}
	var flat protocol.SymbolInformationSlice
	for i := range tops {
		flat = flatten(flat, p.TextDocument.URI, "", &tops[i])
	}
	return flat, nil
}

// symbols is DocumentSymbol, nested and written already: that is half a megabyte
// in a bake that never rests.
func (s *Server) symbols(ctx context.Context, p *protocol.DocumentSymbolParams) (encoded, error) {
	shot, err := s.shot(ctx, p.TextDocument.URI)
	if shot == nil {
		return nil, err
	}
	o := outline{s: s, shot: shot, share: max(4, maxSymbols/max(1, len(shot.Scene.Parts)))}
	o.out = make([]byte, 0, s.outlined.Load())
	o.parts()
	s.outlined.Store(int64(len(o.out)) + 1<<10)
	return o.out, nil
}

// outline writes the symbols of a scene.
type outline struct {
	s            *Server
	shot         *workspace.Shot
	share        int // how many moves and holds one part may list
	children     [][]scene.PartID
	out          []byte
	name, detail []byte // of the symbol under way
}

// parts writes the symbols of the parts written in the document, nested as
// they are there.
func (o *outline) parts() {
	sc := o.shot.Scene
	o.children = make([][]scene.PartID, len(sc.Parts))
	var tops []scene.PartID
	for i := range sc.Parts {
		p := &sc.Parts[i]
		if p.Def.File != 0 {
			continue
		}
		up := p.Parent
		for up != scene.NoPart && sc.Parts[up].Def.File != 0 {
			up = sc.Parts[up].Parent
		}
		if up == scene.NoPart {
			tops = append(tops, scene.PartID(i))
		} else {
			o.children[up] = append(o.children[up], scene.PartID(i))
		}
	}
	o.out = append(o.out, '[')
	for _, id := range tops {
		o.part(id)
	}
	o.out = append(o.out, ']')
}

// part writes the symbol of a part with its channels, moves and holds and the
// parts below it.
func (o *outline) part(id scene.PartID) {
	p := &o.shot.Scene.Parts[id]
	o.name, o.detail = append(o.name[:0], p.Name...), o.detail[:0]
	o.begin(kindOf(p), whole(p.Body, p.Def), inner(p.NameSpan, p.Def))
	o.out = append(o.out, `,"children":[`...)
	before := len(o.out)
	for _, c := range o.shot.Study.Channels(id) {
		if ch := &o.shot.Scene.Channels[c]; ch.Curve.Len() > 0 && ch.Curve.File == 0 {
			o.channel(ch)
		}
	}
	o.timeline(id)
	for _, child := range o.children[id] {
		o.part(child)
	}
	if len(o.out) == before {
		o.out = o.out[:before-len(`,"children":[`)]
	} else {
		o.out = append(o.out, ']')
	}
	o.out = append(o.out, '}')
}

func (o *outline) channel(c *scene.Channel) {
	times := c.Curve.Times
	o.name = append(o.name[:0], c.Name...)
	o.detail = append(o.detail[:0], words.Count(len(times), "key")...)
	o.detail = append(o.detail, ", "...)
	o.detail = words.AppendBetween(o.detail, times[0], times[len(times)-1])
	o.begin(protocol.SymbolKindProperty, whole(c.Block, c.Def), c.Def)
	o.out = append(o.out, '}')
}

// timeline writes the moves and holds of a part, each at the keys where it
// begins: the first ones where there are many.
func (o *outline) timeline(id scene.PartID) {
	study := o.shot.Study
	t := facts.LeadingTrack(study, id)
	if t == nil || len(t.Strokes()) == 0 {
		return
	}
	moves, holds := t.Strokes(), t.Holds()
	left := o.share
	unit := facts.UnitOf(t)
	for i := 0; i < len(moves) && left > 0; i++ {
		m := &moves[i]
		o.detail = words.AppendAmount(o.detail[:0], unit, m.Length)
		o.detail = words.AppendFrame(append(o.detail, ", peak "...), study.Frame(m.Peak))
		if o.stretch(id, m.First, m.Last, "move ", protocol.SymbolKindEvent) {
			left--
		}
	}
	o.detail = o.detail[:0]
	for i := 0; i < len(holds) && left > 0; i++ {
		if o.stretch(id, holds[i].First, holds[i].Last, "hold ", protocol.SymbolKindConstant) {
			left--
		}
	}
}

// stretch writes the symbol of a stretch of frames of a part; false when it
// stands in another file.
func (o *outline) stretch(id scene.PartID, first, last int, what string, kind protocol.SymbolKind) bool {
	study := o.shot.Study
	a, b := study.AnchorPart(id, first), study.AnchorPart(id, last)
	if a.File != 0 || b.File != 0 {
		return false
	}
	if b.End < a.End {
		b = a
	}
	o.name = words.AppendBetween(append(o.name[:0], what...), study.Frame(first), study.Frame(last))
	o.begin(kind, scene.Span{Start: a.Start, End: b.End}, a)
	o.out = append(o.out, '}')
	return true
}

// begin writes a symbol with the name and detail under way, but for its end. Its
// selection lies within its range, as clients insist.
func (o *outline) begin(kind protocol.SymbolKind, all, selection scene.Span) {
	if len(o.name) == 0 {
		o.name = append(o.name, "(unnamed)"...)
	}
	if last := o.out[len(o.out)-1]; last != '[' {
		o.out = append(o.out, ',')
	}
	o.out = appendQuoted(append(o.out, `{"name":`...), o.name)
	if len(o.detail) > 0 {
		o.out = appendQuoted(append(o.out, `,"detail":`...), o.detail)
	}
	o.out = strconv.AppendUint(append(o.out, `,"kind":`...), uint64(kind), 10)
	start, end := min(all.Start, selection.Start), max(all.End, selection.End)
	x := o.shot.Lookup.Index(selection.File)
	from, to := o.s.position(x, int(selection.Start)), o.s.position(x, int(selection.End))
	first, last := from, to // which they mostly are
	if start != selection.Start {
		first = o.s.position(x, int(start))
	}
	if end != selection.End {
		last = o.s.position(x, int(end))
	}
	o.out = appendRange(append(o.out, `,"range":`...), first, last)
	o.out = appendRange(append(o.out, `,"selectionRange":`...), from, to)
}

// whole returns the first of two spans that holds something.
func whole(a, b scene.Span) scene.Span {
	if a.Empty() || a.File != b.File {
		return b
	}
	return a
}

// inner returns the first span if it lies inside the second, else the second.
func inner(a, b scene.Span) scene.Span {
	if a.Empty() || a.File != b.File {
		return b
	}
	return a
}

// kindOf says what a part is in the protocol's words for programs.
func kindOf(p *scene.Part) protocol.SymbolKind {
	switch p.Kind {
	case scene.Joint:
		return protocol.SymbolKindField
	case scene.SkeletonRoot:
		return protocol.SymbolKindClass
	case scene.CameraPart, scene.LightPart:
		return protocol.SymbolKindInterface
	case scene.Weight, scene.Scalar, scene.WorldTrack, scene.PictureTrack:
		return protocol.SymbolKindVariable
	}
	return protocol.SymbolKindObject
}

// flatten appends a symbol and all below it.
func flatten(dst protocol.SymbolInformationSlice, u uri.URI, container string, sym *protocol.DocumentSymbol) protocol.SymbolInformationSlice {
	info := protocol.SymbolInformation{Location: protocol.Location{URI: u, Range: sym.Range}}
	info.Name, info.Kind = sym.Name, sym.Kind
	if container != "" {
		info.ContainerName = new(container)
	}
	dst = append(dst, info)
	for i := range sym.Children {
		dst = flatten(dst, u, sym.Name, &sym.Children[i])
	}
	return dst
}
