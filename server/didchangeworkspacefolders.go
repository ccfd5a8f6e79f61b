package server

import (
	"context"

	"go.lsp.dev/protocol"

	"curvelint/server/workspace"
)

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
	s.judging.Follow(s.session.SetFolders(paths)...)
	s.client.Background.Go(func(context.Context) {
		s.judging.DropOutside()
		s.client.RefreshNotes()
	})
	return nil
}
