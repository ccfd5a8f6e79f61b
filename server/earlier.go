package server

import (
	"context"
	"fmt"
	"path/filepath"
	"slices"
	"time"

	"go.lsp.dev/uri"

	"curvelint/diagnostics/note"
	"curvelint/diagnostics/passes"
	"curvelint/diagnostics/words"
	"curvelint/server/workspace"
)

const (
	// comparePatience is how long hover and lenses wait for a comparison; they do
	// without it then, and lenses are asked for again when it is there.
	comparePatience = 100 * time.Millisecond
	// comparePause is how long a comparison waits for the next edit.
	comparePause = 300 * time.Millisecond
)

// taskOf names a task about a file other than judging it.
func taskOf(kind string, u uri.URI) uri.URI { return uri.URI(kind + ":" + string(u)) }

// sinceEarlier returns a scene held against its earlier pass; nil when it has
// none, when the two cannot be compared, or when that takes long. The comparison
// is then made in the background.
func (s *Server) sinceEarlier(ctx context.Context, shot *workspace.Shot) *passes.Comparison {
	if c, known := s.session.Compared(shot); known {
		return c
	}
	if s.can.refreshLenses {
		s.compareSoon(shot)
		short, cancel := context.WithTimeout(ctx, comparePatience)
		defer cancel()
		ctx = short
	}
	c, err := s.session.Compare(ctx, shot)
	if err != nil {
		s.logUnlessOver(ctx, err)
		return nil
	}
	return c
}

// compareSoon compares a scene with its earlier pass in the background, unless
// an edit comes, and lets the client ask for lenses again.
func (s *Server) compareSoon(shot *workspace.Shot) {
	ctx, done := s.busy.begin(s.session.Lifetime(), taskOf("compare", shot.Doc.URI))
	s.background(func(context.Context) {
		defer done()
		if !sleep(ctx, comparePause) || !s.session.Current(shot.Doc) {
			return
		}
		if _, err := s.session.Compare(ctx, shot); err != nil {
			s.logUnlessOver(ctx, err)
			return
		}
		s.logUnlessOver(ctx, s.client.CodeLensRefresh(ctx))
	})
}

// sinceText says what changed since the earlier pass; "" when nothing did.
func sinceText(c *passes.Comparison, change string) string {
	if change == "" {
		return ""
	}
	return "since " + passName(c) + ": " + change
}

// passName names the earlier pass by its file.
func passName(c *passes.Comparison) string { return filepath.Base(c.Before.Scene.Files[0].Path) }

// fixedLines say which notes on a part are gone since the earlier pass.
func fixedLines(c *passes.Comparison, path string) (lines []sheetLine) {
	for i := range c.Notes.Fixed {
		if n := &c.Notes.Fixed[i]; n.Part == path {
			lines = append(lines, sheetLine{fmt.Sprintf("fixed since %s, %s:", passName(c), words.Span(n.First, n.Last)), n.Check})
		}
	}
	return lines
}

// isNew reports whether a note was not on the earlier pass.
func isNew(c *passes.Comparison, n *note.Note) bool {
	return slices.ContainsFunc(c.Notes.New, func(m note.Note) bool {
		return m.Check == n.Check && m.Part == n.Part && m.First == n.First && m.Last == n.Last
	})
}

// earlierChanged lets the client ask for lenses again when one of the changed
// files is the earlier pass of an open scene.
func (s *Server) earlierChanged(changed []string) {
	if !s.can.refreshLenses {
		return
	}
	for _, d := range s.session.Snapshot().Docs() {
		if path, ok := s.session.EarlierPath(d); ok && slices.Contains(changed, path) {
			ctx, done := s.busy.begin(s.session.Lifetime(), taskOf("lenses", d.URI))
			s.background(func(context.Context) {
				defer done()
				if sleep(ctx, comparePause) {
					s.logUnlessOver(ctx, s.client.CodeLensRefresh(ctx))
				}
			})
			return // one refresh is for all
		}
	}
}
