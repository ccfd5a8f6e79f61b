package server

import (
	"go.lsp.dev/uri"

	"curvelint/server/workspace"
)

// Doc returns the newest version of an open text, or nil. It is for tests, like
// Settled.
func (s *Server) Doc(u uri.URI) *workspace.Doc { return s.session.Snapshot().Doc(u) }

// Settled reports whether the client has been told of the study of a version of a
// text, and the wire.Hash of what it was told.
func (s *Server) Settled(d *workspace.Doc) (hash uint64, ok bool) {
	return s.judging.Settled(d.URI, d.ID)
}
