package feature

import (
	"context"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"curvelint/server/wire"
)

// maxSymbols bounds the moves and holds listed for one scene; every part has its
// share of them, so that the last ones are not left without.
const maxSymbols = 2000

// DocumentSymbol lists the parts of a scene, in each its channels and what it
// does: moves and holds with their frames. A client that knows no nesting is
// given the same as a flat list.
func (f *Features) DocumentSymbol(ctx context.Context, p *protocol.DocumentSymbolParams) (protocol.DocumentSymbolResult, error) {
	tree, err := f.Outline(ctx, p)
	if tree == nil {
		return nil, err
	}
	var tops protocol.DocumentSymbolSlice
	if err := protocol.Unmarshal(tree, &tops); err != nil {
		return nil, err
	}
	if f.client.Abilities.NestedSymbols {
		return tops, nil
	}
	var flat protocol.SymbolInformationSlice
	for i := range tops {
		flat = flatten(flat, p.TextDocument.URI, "", &tops[i])
	}
	return flat, nil
}

// Outline is DocumentSymbol, nested and written already: that is half a megabyte
// in a bake that never rests.
func (f *Features) Outline(ctx context.Context, p *protocol.DocumentSymbolParams) (wire.JSON, error) {
	shot, err := f.session.ShotAt(ctx, p.TextDocument.URI)
	if shot == nil {
		return nil, err
	}
	o := outline{f: f, shot: shot, share: max(4, maxSymbols/max(1, len(shot.Scene.Parts)))}
	o.out = make([]byte, 0, f.outlined.Load())
	o.parts()
	f.outlined.Store(int64(len(o.out)) + 1<<10)
	return o.out, nil
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
