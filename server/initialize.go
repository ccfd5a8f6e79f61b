package server

import (
	"context"

	"go.lsp.dev/protocol"

	"curvelint/server/workspace"
)

// Initialize learns what the client can do and tells what the server can.
func (s *Server) Initialize(_ context.Context, p *protocol.InitializeParams) (*protocol.InitializeResult, error) {
	s.client.Meet(p)
	s.session.SetFolders(foldersOf(p))
	if len(p.InitializationOptions) > 0 {
		s.prefer(p.InitializationOptions)
	}
	if p.ProcessID != nil {
		s.watchParent(int(*p.ProcessID))
	}
	s.dispatcher.Phase.Run()
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
	if folder := p.RootURI; len(paths) == 0 && folder != nil && *folder != "" {
		paths = append(paths, workspace.PathOf(*folder))
	}
	return paths
}
