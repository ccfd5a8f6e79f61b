package server

import (
	"bytes"
	"context"

	"go.lsp.dev/protocol"

	"curvelint/server/show"
)

// DidChangeConfiguration takes in the client's configuration, or asks for it
// where the client says only that it changed.
func (s *Server) DidChangeConfiguration(_ context.Context, p *protocol.DidChangeConfigurationParams) error {
	if s.client.Abilities.Configuration {
		s.client.Background.Go(s.fetchConfiguration)
		return nil
	}
	s.takeConfiguration(p.Settings)
	return nil
}

// fetchConfiguration asks the client for its configuration.
func (s *Server) fetchConfiguration(ctx context.Context) {
	answers, err := s.client.Configuration(ctx, &protocol.ConfigurationParams{
		Items: []protocol.ConfigurationItem{{Section: new(show.Scheme)}}})
	if err != nil {
		s.client.Log.UnlessOver(ctx, err)
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
	s.judging.Rejudge(s.prefer(raw), nil)
	s.client.RefreshViews()
}
