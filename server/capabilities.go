package server

import (
	"go.lsp.dev/protocol"

	"curvelint/parse/text"
	"curvelint/server/command"
	"curvelint/server/feature"
	"curvelint/server/show"
)

// capabilities says what the server does for this client.
func (s *Server) capabilities() protocol.ServerCapabilities {
	can := &s.client.Abilities
	c := protocol.ServerCapabilities{
		TextDocumentSync: &protocol.TextDocumentSyncOptions{
			OpenClose: new(true),
			Change:    new(protocol.TextDocumentSyncKindIncremental),
			Save:      protocol.Boolean(true),
		},
		HoverProvider:           protocol.Boolean(true),
		DocumentSymbolProvider:  protocol.Boolean(true),
		WorkspaceSymbolProvider: protocol.Boolean(true),

		FoldingRangeProvider:      protocol.Boolean(true),
		SelectionRangeProvider:    protocol.Boolean(true),
		DefinitionProvider:        protocol.Boolean(true),
		ReferencesProvider:        protocol.Boolean(true),
		DocumentHighlightProvider: protocol.Boolean(true),
	}
	c.CodeActionProvider = protocol.Boolean(true)
	if can.ActionLiterals {
		c.CodeActionProvider = &protocol.CodeActionOptions{
			CodeActionKinds: []protocol.CodeActionKind{protocol.CodeActionKindQuickFix}, ResolveProvider: new(can.ResolvesEdits)}
	}
	c.InlayHintProvider = protocol.Boolean(true)
	c.CodeLensProvider = &protocol.CodeLensOptions{ResolveProvider: new(true)}
	c.ExecuteCommandProvider = protocol.ExecuteCommandOptions{Commands: command.Names(can)}
	if can.TokensAnnounce {
		c.SemanticTokensProvider = &protocol.SemanticTokensOptions{
			Legend: protocol.SemanticTokensLegend{TokenTypes: feature.TokenTypes, TokenModifiers: feature.TokenModifiers},
			Range:  protocol.Boolean(true), Full: protocol.Boolean(true),
		}
	}
	if can.Pull {
		c.DiagnosticProvider = &protocol.DiagnosticOptions{Identifier: new(show.Source), InterFileDependencies: true, WorkspaceDiagnostics: true}
	}
	switch can.Encoding {
	case text.UTF8:
		c.PositionEncoding = protocol.PositionEncodingKindUTF8
	case text.UTF32:
		c.PositionEncoding = protocol.PositionEncodingKindUTF32
	}
	if can.FolderChanges || can.ServesContent {
		c.Workspace = &protocol.WorkspaceOptions{}
	}
	if can.FolderChanges {
		c.Workspace.WorkspaceFolders = &protocol.WorkspaceFoldersServerCapabilities{
			Supported: new(true), ChangeNotifications: protocol.Boolean(true)}
	}
	if can.ServesContent {
		c.Workspace.TextDocumentContent = &protocol.TextDocumentContentOptions{Schemes: []string{show.Scheme}}
	}
	return c
}
