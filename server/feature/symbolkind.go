package feature

import (
	"go.lsp.dev/protocol"

	"curvelint/parse/scene"
)

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
