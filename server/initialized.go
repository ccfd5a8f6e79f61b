package server

import (
	"context"

	"go.lsp.dev/protocol"

	"curvelint/diagnostics/config"
	"curvelint/parse"
	"curvelint/server/show"
)

// Initialized asks the client to tell of files that change on disk and of its
// configuration, as far as it can. The answers come on the connection that is
// read here, so nothing may wait for them.
func (s *Server) Initialized(context.Context, *protocol.InitializedParams) error {
	s.client.Background.Go(func(ctx context.Context) {
		if s.client.Abilities.WatchesFiles {
			s.client.Register(ctx, protocol.MethodWorkspaceDidChangeWatchedFiles, watchers())
		} else {
			s.judging.Poll(ctx)
		}
	})
	if s.client.Abilities.Configuration {
		s.client.Background.Go(func(ctx context.Context) {
			if s.client.Abilities.ConfigWatch {
				s.client.Register(ctx, protocol.MethodWorkspaceDidChangeConfiguration, map[string]string{"section": show.Scheme})
			}
			s.fetchConfiguration(ctx)
		})
	}
	return nil
}

// watchers are the files whose changes matter.
func watchers() *watchOptions {
	o := &watchOptions{}
	add := func(glob string) {
		o.Watchers = append(o.Watchers, watcher{GlobPattern: glob})
	}
	for _, ext := range parse.Extensions() {
		add("**/*" + ext)
	}
	// What scenes name besides scenes: buffers.
	add("**/*.bin")
	add("**/" + config.FileName)
	return o
}

type watchOptions struct {
	Watchers []watcher `json:"watchers"`
}

type watcher struct {
	GlobPattern string `json:"globPattern"`
}
