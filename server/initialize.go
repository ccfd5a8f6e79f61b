package server

import (
	"context"

	"go.lsp.dev/protocol"

	"curvelint/parse/text"
	"curvelint/server/workspace"
)

// Initialize learns what the client can do and tells what the server can.
func (s *Server) Initialize(_ context.Context, p *protocol.InitializeParams) (*protocol.InitializeResult, error) {
	s.can = abilitiesOf(p)
	s.session.SetFolders(foldersOf(p))
	if len(p.InitializationOptions) > 0 {
		s.prefer(p.InitializationOptions)
	}
	if p.ProcessID != nil {
		s.watchParent(int(*p.ProcessID))
	}
	s.phase.Store(int32(running))
	result := &protocol.InitializeResult{Capabilities: s.capabilities(),
		ServerInfo: protocol.ServerInfo{Name: "curvelint"}}
	if s.options.Version != "" {
		result.ServerInfo.Version = protocol.NewOptional(s.options.Version)
	}
	return result, nil
}

// foldersOf returns the paths of the folders that are open.
func foldersOf(p *protocol.InitializeParams) []string {
	var paths []string
	if folders, ok := p.WorkspaceFolders.Get(); ok {
		for _, f := range folders {
			paths = append(paths, workspace.PathOf(f.URI))
		}
	}
	// Older editors send no folders but a root.
	//lint:ignore SA1019 still sent by editors in use
	if root := p.RootURI; len(paths) == 0 && root != nil && *root != "" {
		paths = append(paths, workspace.PathOf(*root))
	}
	return paths
}

// capabilities says what the server does for this client.
func (s *Server) capabilities() protocol.ServerCapabilities {
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
	if s.can.actionLiterals {
		c.CodeActionProvider = &protocol.CodeActionOptions{
			CodeActionKinds: []protocol.CodeActionKind{protocol.CodeActionKindQuickFix}, ResolveProvider: new(s.can.resolvesEdits)}
	}
	c.InlayHintProvider = protocol.Boolean(true)
	c.CodeLensProvider = &protocol.CodeLensOptions{ResolveProvider: new(true)}
	c.ExecuteCommandProvider = protocol.ExecuteCommandOptions{Commands: commandNames(&s.can)}
	if s.can.tokensAnnounce {
		c.SemanticTokensProvider = &protocol.SemanticTokensOptions{
			Legend: protocol.SemanticTokensLegend{TokenTypes: tokenTypes, TokenModifiers: tokenModifiers},
			Range:  protocol.Boolean(true), Full: protocol.Boolean(true),
		}
	}
	if s.can.pull {
		c.DiagnosticProvider = &protocol.DiagnosticOptions{Identifier: new(source), InterFileDependencies: true, WorkspaceDiagnostics: true}
	}
	switch s.can.encoding {
	case text.UTF8:
		c.PositionEncoding = protocol.PositionEncodingKindUTF8
	case text.UTF32:
		c.PositionEncoding = protocol.PositionEncodingKindUTF32
	}
	if s.can.folderChanges || s.can.servesContent {
		c.Workspace = &protocol.WorkspaceOptions{}
	}
	if s.can.folderChanges {
		c.Workspace.WorkspaceFolders = &protocol.WorkspaceFoldersServerCapabilities{
			Supported: new(true), ChangeNotifications: protocol.Boolean(true)}
	}
	if s.can.servesContent {
		c.Workspace.TextDocumentContent = &protocol.TextDocumentContentOptions{Schemes: []string{docScheme}}
	}
	return c
}

// Shutdown ends the background work. Only exit may follow.
func (s *Server) Shutdown(context.Context) error {
	s.phase.Store(int32(stopped))
	s.session.Close()
	return nil
}

// Exit ends the session.
func (s *Server) Exit(context.Context) error {
	s.exited.Do(func() { close(s.exit) })
	return nil
}
