package server

import (
	"context"
	"os"
	"time"

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
	s.onDisk(paths)
	return nil
}

// pollPause is how often files are looked at for clients that cannot watch
// them.
const pollPause = 2 * time.Second

// stamp tells versions of a file on disk apart.
type stamp struct {
	size int64
	time time.Time
}

// poll watches, for a client that cannot, the files that matter already: those
// that open scenes are made of, what governs them, and scenes judged on disk.
func (s *Server) poll(ctx context.Context) {
	seen := map[string]stamp{}
	for sleep(ctx, pollPause) {
		var changed []string
		for _, path := range s.watchedPaths() {
			now := stampOf(path)
			if before, known := seen[path]; known && before != now {
				changed = append(changed, path)
			}
			seen[path] = now
		}
		if len(changed) > 0 {
			s.onDisk(changed)
		}
	}
}

// stampOf returns the stamp of a file, zero when there is none.
func stampOf(path string) stamp {
	info, err := os.Stat(path)
	if err != nil {
		return stamp{}
	}
	return stamp{info.Size(), info.ModTime()}
}

// watchedPaths returns the paths of all files on disk that matter already.
func (s *Server) watchedPaths() []string {
	paths := s.board.files()
	for _, d := range s.session.Snapshot().Docs() {
		if path, ok := s.session.EarlierPath(d); ok {
			paths = append(paths, path)
		}
	}
	return paths
}

// files returns the paths on disk that the roots hang on.
func (b *board) files() []string {
	b.mu.Lock()
	defer b.mu.Unlock()
	var paths []string
	for _, r := range b.roots {
		if r.id == 0 {
			continue
		}
		paths = append(paths, r.reads...)
		if r.config != nil && r.config.File != nil {
			paths = append(paths, r.config.File.Path)
		}
		if !r.open {
			paths = append(paths, r.path)
		}
	}
	return paths
}
