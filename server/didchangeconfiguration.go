package server

import (
	"bytes"
	"context"

	"go.lsp.dev/protocol"

	"curvelint/server/workspace"
)

// DidChangeConfiguration takes in the client's configuration, or asks for it
// where the client says only that it changed.
func (s *Server) DidChangeConfiguration(_ context.Context, p *protocol.DidChangeConfigurationParams) error {
	if s.can.configuration {
		s.background(s.fetchConfiguration)
		return nil
	}
	s.takeConfiguration(p.Settings)
	return nil
}

// fetchConfiguration asks the client for its configuration.
func (s *Server) fetchConfiguration(ctx context.Context) {
	answers, err := s.client.Configuration(ctx, &protocol.ConfigurationParams{
		Items: []protocol.ConfigurationItem{{Section: new(docScheme)}}})
	if err != nil {
		s.logUnlessOver(ctx, err)
		return
	}
	if len(answers) == 1 {
		s.takeConfiguration(answers[0])
	}
}

// takeConfiguration applies the client's configuration; one that says nothing
// changes nothing.
func (s *Server) takeConfiguration(raw []byte) {
	raw = bytes.TrimSpace(raw)
	if len(raw) == 0 || raw[0] != '{' {
		return
	}
	s.rejudge(s.prefer(raw), nil)
	s.refreshViews()
}

// DidChangeWorkspaceFolders takes in which folders are open: scenes may name
// other files now, and files on disk outside all folders are of no interest.
func (s *Server) DidChangeWorkspaceFolders(_ context.Context, p *protocol.DidChangeWorkspaceFoldersParams) error {
	gone := map[string]bool{}
	for _, f := range p.Event.Removed {
		gone[workspace.PathOf(f.URI)] = true
	}
	var paths []string
	for _, path := range s.session.Folders() {
		if !gone[path] {
			paths = append(paths, path)
		}
	}
	for _, f := range p.Event.Added {
		paths = append(paths, workspace.PathOf(f.URI))
	}
	s.follow(s.session.SetFolders(paths)...)
	s.background(func(context.Context) {
		s.board.dropOutside()
		s.refreshNotes()
	})
	return nil
}

// refreshViews lets the client ask again for what hangs on more than the text.
func (s *Server) refreshViews() {
	s.background(func(ctx context.Context) {
		if s.can.refreshHints {
			s.logUnlessOver(ctx, s.client.InlayHintRefresh(ctx))
		}
		if s.can.refreshLenses {
			s.logUnlessOver(ctx, s.client.CodeLensRefresh(ctx))
		}
		if s.can.refreshTokens {
			s.logUnlessOver(ctx, s.client.SemanticTokensRefresh(ctx))
		}
	})
}
