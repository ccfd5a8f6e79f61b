package server

import (
	"context"
	"fmt"
	"slices"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"curvelint/diagnostics/facts"
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
	shot, err := s.shot(ctx, p.TextDocument.URI)
	if shot == nil {
		return nil, err
	}
	o := outline{s: s, shot: shot, share: max(4, maxSymbols/max(1, len(shot.Scene.Parts)))}
	tops := o.parts()
	if s.can.nestedSymbols {
		return protocol.DocumentSymbolSlice(tops), nil
	}
	var flat protocol.SymbolInformationSlice
	for i := range tops {
		flat = flatten(flat, p.TextDocument.URI, "", &tops[i])
	}
	return flat, nil
}

// outline builds the symbols of a scene.
type outline struct {
	s     *Server
	shot  *workspace.Shot
	share int // how many moves and holds one part may list
}

// parts returns the symbols of the parts written in the document, nested as
// they are there.
func (o *outline) parts() []protocol.DocumentSymbol {
	sc := o.shot.Scene
	children := make([][]scene.PartID, len(sc.Parts))
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
			children[up] = append(children[up], scene.PartID(i))
		}
	}
	return o.nest(tops, children)
}

func (o *outline) nest(ids []scene.PartID, children [][]scene.PartID) []protocol.DocumentSymbol {
	list := make([]protocol.DocumentSymbol, 0, len(ids))
	for _, id := range ids {
		sym := o.part(id)
		sym.Children = append(sym.Children, o.nest(children[id], children)...)
		list = append(list, sym)
	}
	return list
}

// part returns the symbol of a part with its channels, moves and holds.
func (o *outline) part(id scene.PartID) protocol.DocumentSymbol {
	p := &o.shot.Scene.Parts[id]
	sym := o.symbol(p.Name, kindOf(p), whole(p.Body, p.Def), inner(p.NameSpan, p.Def))
	for _, c := range o.shot.Study.Channels(id) {
		if ch := &o.shot.Scene.Channels[c]; ch.Curve.Len() > 0 && ch.Curve.File == 0 {
			sym.Children = append(sym.Children, o.channel(ch))
		}
	}
	sym.Children = o.timeline(sym.Children, id)
	return sym
}

func (o *outline) channel(c *scene.Channel) protocol.DocumentSymbol {
	sym := o.symbol(c.Name, protocol.SymbolKindProperty, whole(c.Block, c.Def), c.Def)
	times := c.Curve.Times
	sym.Detail = new(fmt.Sprintf("%s, %s-%s", count(len(times), "key"), number(times[0]), number(times[len(times)-1])))
	return sym
}

// timeline appends the moves and holds of a part, each at the keys where it
// begins: the first ones where there are many.
func (o *outline) timeline(list []protocol.DocumentSymbol, id scene.PartID) []protocol.DocumentSymbol {
	study := o.shot.Study
	t := facts.LeadingTrack(study, id)
	if t == nil || len(t.Strokes()) == 0 {
		return list
	}
	moves, holds := t.Strokes(), t.Holds()
	list = slices.Grow(list, min(o.share, len(moves)+len(holds)))
	left := o.share
	for i := 0; i < len(moves) && left > 0; i++ {
		m := &moves[i]
		if sym, ok := o.stretch(id, m.First, m.Last, "move", protocol.SymbolKindEvent); ok {
			sym.Detail = new(amount(t.Quality, m.Length) + ", peak " + number(study.Frame(m.Peak)))
			list, left = append(list, sym), left-1
		}
	}
	for i := 0; i < len(holds) && left > 0; i++ {
		if sym, ok := o.stretch(id, holds[i].First, holds[i].Last, "hold", protocol.SymbolKindConstant); ok {
			list, left = append(list, sym), left-1
		}
	}
	return list
}

// stretch returns the symbol of a stretch of frames of a part.
func (o *outline) stretch(id scene.PartID, first, last int, what string, kind protocol.SymbolKind) (protocol.DocumentSymbol, bool) {
	study := o.shot.Study
	a, b := study.AnchorPart(id, first), study.AnchorPart(id, last)
	if a.File != 0 || b.File != 0 {
		return protocol.DocumentSymbol{}, false
	}
	if b.End < a.End {
		b = a
	}
	return o.symbol(what+" "+frames(study, first, last), kind, scene.Span{Start: a.Start, End: b.End}, a), true
}

// symbol returns a symbol whose selection lies within its range, as clients
// insist.
func (o *outline) symbol(name string, kind protocol.SymbolKind, all, selection scene.Span) protocol.DocumentSymbol {
	if name == "" {
		name = "(unnamed)"
	}
	all.Start, all.End = min(all.Start, selection.Start), max(all.End, selection.End)
	return protocol.DocumentSymbol{Name: name, Kind: kind,
		Range: o.s.spanRange(o.shot.Lookup, all), SelectionRange: o.s.spanRange(o.shot.Lookup, selection)}
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
