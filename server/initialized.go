package server

import (
	"context"
	"encoding/json"
	"fmt"

	"go.lsp.dev/protocol"

	"curvelint/diagnostics/config"
	"curvelint/parse"
)

// Initialized asks the client to tell of files that change on disk and of its
// configuration, as far as it can. The answers come on the connection that is
// read here, so nothing may wait for them.
func (s *Server) Initialized(context.Context, *protocol.InitializedParams) error {
	s.background(func(ctx context.Context) {
		if s.can.watchesFiles {
			s.register(ctx, protocol.MethodWorkspaceDidChangeWatchedFiles, watchers())
		} else {
			s.poll(ctx)
		}
	})
	if s.can.configuration {
		s.background(func(ctx context.Context) {
			if s.can.configWatch {
				s.register(ctx, protocol.MethodWorkspaceDidChangeConfiguration, map[string]string{"section": docScheme})
			}
			s.fetchConfiguration(ctx)
		})
	}
	return nil
}

// register asks the client for a kind of message.
func (s *Server) register(ctx context.Context, method string, options any) {
	raw, err := json.Marshal(options)
	if err != nil {
		s.log("%s: %v", method, err)
		return
	}
	err = s.client.RegisterCapability(ctx, &protocol.RegistrationParams{Registrations: []protocol.Registration{{
		ID: fmt.Sprintf("curvelint-%d", s.registrations.Add(1)), Method: method, RegisterOptions: raw,
	}}})
	if err != nil {
		s.logUnlessOver(ctx, err)
	}
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
