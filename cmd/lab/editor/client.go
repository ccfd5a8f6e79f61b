package editor

import (
	"context"

	"go.lsp.dev/protocol"
)

// clientSide is what the server may call.
type clientSide struct {
	protocol.UnimplementedClient
	e *Editor
}

func (c *clientSide) PublishDiagnostics(_ context.Context, p *protocol.PublishDiagnosticsParams) error {
	// The library handles messages side by side, so that an older one may come
	// last: it is not the server's word.
	c.e.Note(func() {
		if before := c.e.Published[p.URI]; before != nil {
			old, _ := before.Version.Get()
			if now, ok := p.Version.Get(); ok && now < old {
				return
			}
		}
		c.e.Published[p.URI] = p
	})
	return nil
}

func (c *clientSide) RegisterCapability(_ context.Context, p *protocol.RegistrationParams) error {
	c.e.Note(func() { c.e.Registers = append(c.e.Registers, p.Registrations...) })
	return nil
}

func (c *clientSide) ShowMessage(_ context.Context, p *protocol.ShowMessageParams) error {
	c.e.Note(func() { c.e.Messages = append(c.e.Messages, p.Message) })
	return nil
}

func (c *clientSide) ShowDocument(_ context.Context, p *protocol.ShowDocumentParams) (*protocol.ShowDocumentResult, error) {
	c.e.Note(func() { c.e.Shown = append(c.e.Shown, p.URI) })
	return &protocol.ShowDocumentResult{Success: true}, nil
}

func (c *clientSide) ApplyEdit(context.Context, *protocol.ApplyWorkspaceEditParams) (*protocol.ApplyWorkspaceEditResult, error) {
	return &protocol.ApplyWorkspaceEditResult{Applied: true}, nil
}

func (c *clientSide) WorkDoneProgressCreate(_ context.Context, p *protocol.WorkDoneProgressCreateParams) error {
	c.e.Note(func() { c.e.Tokens = append(c.e.Tokens, p.Token) })
	return nil
}

func (c *clientSide) Progress(_ context.Context, p *protocol.ProgressParams) error {
	c.e.Note(func() { c.e.Progress = append(c.e.Progress, *p) })
	return nil
}

func (c *clientSide) LogMessage(context.Context, *protocol.LogMessageParams) error { return nil }

func (c *clientSide) DiagnosticRefresh(context.Context) error {
	c.e.Note(func() { c.e.Refreshed++ })
	return nil
}

func (c *clientSide) InlayHintRefresh(context.Context) error { return nil }

func (c *clientSide) CodeLensRefresh(context.Context) error {
	c.e.Note(func() { c.e.LensRefreshes++ })
	return nil
}

func (c *clientSide) SemanticTokensRefresh(context.Context) error { return nil }

func (c *clientSide) Configuration(context.Context, *protocol.ConfigurationParams) ([]protocol.LSPAny, error) {
	c.e.Mu.Lock()
	defer c.e.Mu.Unlock()
	if c.e.Config == "" {
		return []protocol.LSPAny{protocol.LSPAny("null")}, nil
	}
	return []protocol.LSPAny{protocol.LSPAny(c.e.Config)}, nil
}
