package server

import (
	"context"
	"errors"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"go.lsp.dev/uri"

	"curvelint/diagnostics/config"
	"curvelint/parse"
	"curvelint/server/workspace"
)

// diskPause is how long a file on disk is left alone after a change, since
// programs write in pieces.
const diskPause = 100 * time.Millisecond

// onDisk takes in that files changed on disk. Open texts are the client's, but
// what they read and what governs them may be among the files.
func (s *Server) onDisk(paths []string) {
	s.rejudge(s.session.Refresh(paths), paths)
	for _, p := range paths {
		switch {
		case s.session.Snapshot().ByPath(p) != nil:
		case filepath.Base(p) == config.FileName:
			s.judgeConfig(p)
		case isScene(p):
			s.followFile(uri.File(p), p)
		}
	}
}

// rejudge judges open scenes of which there are new versions, and the scenes
// on disk that read one of the changed files or are governed otherwise now.
func (s *Server) rejudge(docs []*workspace.Doc, changed []string) {
	s.follow(docs...)
	s.earlierChanged(changed)
	s.background(func(context.Context) {
		stale := s.board.stale(changed)
		if len(docs)+len(stale) > 0 {
			s.refreshNotes()
		}
		for u, path := range stale {
			s.followFile(u, path)
		}
	})
}

// isScene reports whether a file is a scene by its name.
func isScene(path string) bool {
	return slices.Contains(parse.Extensions(), strings.ToLower(filepath.Ext(path)))
}

// surely reports whether a file is a scene if its name says so. Tables hold
// all sorts of things.
func surely(path string) bool {
	ext := strings.ToLower(filepath.Ext(path))
	return ext != ".csv" && ext != ".tsv"
}

// followFile judges a scene on disk in the background. Files outside the
// workspace are no longer of interest once they are closed.
func (s *Server) followFile(u uri.URI, path string) {
	if _, inside := s.session.Root(path); !inside {
		s.background(func(context.Context) { s.board.drop(u) })
		return
	}
	if s.can.pull {
		s.refreshNotes()
		return
	}
	ctx, done := s.busy.begin(s.session.Lifetime(), u)
	s.background(func(context.Context) {
		defer done()
		if sleep(ctx, diskPause) {
			s.judgeFile(ctx, u, path)
		}
	})
}

// judgeFile judges a scene on disk; the notes on a file that is gone go too.
// While the file looks half written, the notes on the last whole version stay.
func (s *Server) judgeFile(ctx context.Context, u uri.URI, path string) {
	d, err := s.session.Load(u, path)
	if errors.Is(err, fs.ErrNotExist) {
		s.board.drop(u)
		return
	}
	if err != nil {
		s.logUnlessOver(ctx, err)
		return
	}
	shot, err := s.session.Shot(ctx, d)
	if err != nil {
		s.logUnlessOver(ctx, err)
		return
	}
	if len(shot.Scene.Parts) == 0 && !surely(path) {
		s.board.drop(u)
		return
	}
	if shot.Broken() && s.board.knows(u) && !sleep(ctx, s.options.settle) {
		return
	}
	s.show(shot)
}

// stale returns the scenes on disk that read one of the changed files or are
// governed otherwise than when they were judged, with their paths.
func (b *board) stale(changed []string) map[uri.URI]string {
	b.mu.Lock()
	defer b.mu.Unlock()
	paths := map[uri.URI]string{}
	for u, r := range b.roots {
		if r.id == 0 || r.open {
			continue
		}
		reads := slices.ContainsFunc(r.reads, func(p string) bool { return slices.Contains(changed, p) })
		if reads || b.server.session.ConfigFor(r.path) != r.config {
			paths[u] = r.path
		}
	}
	return paths
}
