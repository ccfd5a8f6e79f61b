package editor

import (
	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"
)

// Capable returns what an editor with all abilities but pulling says.
func Capable() protocol.ClientCapabilities {
	diag := protocol.DiagnosticsCapabilities{
		RelatedInformation: new(true), CodeDescriptionSupport: new(true), DataSupport: new(true),
		TagSupport: protocol.ClientDiagnosticsTagOptions{ValueSet: []protocol.DiagnosticTag{protocol.DiagnosticTagUnnecessary}},
	}
	return protocol.ClientCapabilities{
		General: &protocol.GeneralClientCapabilities{PositionEncodings: []protocol.PositionEncodingKind{protocol.PositionEncodingKindUTF8, protocol.PositionEncodingKindUTF16}},
		TextDocument: &protocol.TextDocumentClientCapabilities{
			PublishDiagnostics: &protocol.PublishDiagnosticsClientCapabilities{DiagnosticsCapabilities: diag, VersionSupport: new(true)},
			Hover:              &protocol.HoverClientCapabilities{ContentFormat: []protocol.MarkupKind{protocol.MarkupKindMarkdown}},
			DocumentSymbol:     &protocol.DocumentSymbolClientCapabilities{HierarchicalDocumentSymbolSupport: new(true)},
		},
		Workspace: &protocol.WorkspaceClientCapabilities{
			DidChangeWatchedFiles: &protocol.DidChangeWatchedFilesClientCapabilities{DynamicRegistration: new(true)},
			WorkspaceFolders:      new(true),
		},
	}
}

// InFolder opens a folder at the start.
func InFolder(dir string) func(*protocol.InitializeParams) {
	return func(p *protocol.InitializeParams) {
		p.WorkspaceFolders = protocol.NewNullable([]protocol.WorkspaceFolder{{URI: uri.File(dir), Name: "shot"}})
	}
}

// WithTokens makes a client that takes semantic tokens.
func WithTokens(p *protocol.InitializeParams) {
	p.Capabilities.TextDocument.SemanticTokens = protocol.SemanticTokensClientCapabilities{
		TokenTypes: []string{}, TokenModifiers: []string{}, Formats: []protocol.TokenFormat{protocol.TokenFormatRelative}}
}

// Fixing makes a client that takes actions in all their glory.
func Fixing(p *protocol.InitializeParams) {
	p.Capabilities.TextDocument.CodeAction = &protocol.CodeActionClientCapabilities{
		CodeActionLiteralSupport: protocol.ClientCodeActionLiteralOptions{CodeActionKind: protocol.ClientCodeActionKindOptions{ValueSet: []protocol.CodeActionKind{protocol.CodeActionKindQuickFix}}},
		IsPreferredSupport:       new(true), DisabledSupport: new(true), DataSupport: new(true), HonorsChangeAnnotations: new(true),
		ResolveSupport: protocol.ClientCodeActionResolveOptions{Properties: []string{"edit"}},
	}
	p.Capabilities.Workspace.WorkspaceEdit = &protocol.WorkspaceEditClientCapabilities{
		DocumentChanges: new(true), ResourceOperations: []protocol.ResourceOperationKind{protocol.ResourceOperationKindCreate},
		ChangeAnnotationSupport: &protocol.ChangeAnnotationsSupportOptions{},
	}
}

// PlainFixing makes a client that takes edits at once and knows no annotations.
func PlainFixing(p *protocol.InitializeParams) {
	p.Capabilities.TextDocument.CodeAction = &protocol.CodeActionClientCapabilities{
		CodeActionLiteralSupport: protocol.ClientCodeActionLiteralOptions{CodeActionKind: protocol.ClientCodeActionKindOptions{ValueSet: []protocol.CodeActionKind{protocol.CodeActionKindQuickFix}}}}
}

// WithBrowser makes a client that shows documents and addresses.
func WithBrowser(p *protocol.InitializeParams) {
	p.Capabilities.Window = &protocol.WindowClientCapabilities{ShowDocument: &protocol.ShowDocumentClientCapabilities{Support: true}}
}

// Everything makes a client that can do all there is.
func Everything(p *protocol.InitializeParams) {
	WithTokens(p)
	Fixing(p)
	w := p.Capabilities.Workspace
	w.Configuration, w.ApplyEdit = new(true), new(true)
	w.DidChangeConfiguration = &protocol.DidChangeConfigurationClientCapabilities{DynamicRegistration: new(true)}
	w.TextDocumentContent = &protocol.TextDocumentContentClientCapabilities{}
	w.InlayHint = &protocol.InlayHintWorkspaceClientCapabilities{RefreshSupport: new(true)}
	w.CodeLens = &protocol.CodeLensWorkspaceClientCapabilities{RefreshSupport: new(true)}
	w.SemanticTokens = &protocol.SemanticTokensWorkspaceClientCapabilities{RefreshSupport: new(true)}
	p.Capabilities.Window = &protocol.WindowClientCapabilities{WorkDoneProgress: new(true), ShowDocument: &protocol.ShowDocumentClientCapabilities{Support: true}}
}

// Pulling makes a client that asks for notes.
func Pulling(dir string) func(*protocol.InitializeParams) {
	return func(p *protocol.InitializeParams) {
		d := &protocol.DiagnosticClientCapabilities{RelatedDocumentSupport: new(true)}
		d.RelatedInformation = new(true)
		p.Capabilities.TextDocument.Diagnostic = d
		p.Capabilities.Workspace.Diagnostics = &protocol.DiagnosticWorkspaceClientCapabilities{RefreshSupport: new(true)}
		InFolder(dir)(p)
	}
}
