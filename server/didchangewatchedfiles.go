package server

import (
	"context"

	"go.lsp.dev/protocol"

	"curvelint/server/workspace"
)

// DidChangeWatchedFiles takes in that files changed on disk: a new export, a
// layer, a configuration.
func (s *Server) DidChangeWatchedFiles(_ context.Context, p *protocol.DidChangeWatchedFilesParams) error {
	paths := make([]string, 0, len(p.Changes))
	for _, c := range p.Changes {
		paths = append(paths, workspace.PathOf(c.URI))
	}
	s.judging.OnDisk(paths)
	return nil
}
