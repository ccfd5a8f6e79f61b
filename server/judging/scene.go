package server

import (
	"context"
	"path/filepath"
	"time"

	"curvelint/diagnostics/note"
	"curvelint/server/workspace"
)

const (
	// longestPause bounds how long a study waits for the next edit.
	longestPause = 150 * time.Millisecond
	// settleTime is how long the notes on the last whole version of a file
	// stay when the file looks half written: an export may just be under way.
	settleTime = 2 * time.Second
)

// follow judges new versions of scenes in the background and tells the client.
// The judgement of an older version of the same scene ends. A client that asks
// for notes does so by itself when it changes a text.
func (s *Server) follow(docs ...*workspace.Doc) {
	if s.can.pull {
		return
	}
	for _, d := range docs {
		if d == nil || d.IsConfig() {
			continue
		}
		ctx, done := s.busy.begin(s.session.Lifetime(), d.URI)
		s.background(func(context.Context) {
			defer done()
			s.judge(ctx, d)
		})
	}
}

// judge judges one version of a scene in two steps: what reading finds is told
// at once; the study follows, among edits in quick succession when none comes
// for as long as the last study took.
func (s *Server) judge(ctx context.Context, d *workspace.Doc) {
	last := s.board.lastGood(d)
	r, err := s.session.Read(ctx, d)
	if err != nil {
		s.logUnlessOver(ctx, err)
		return
	}
	if s.board.faulty(d.URI) || len(r.Problems()) > 0 {
		s.board.put(d.URI, s.early(r, last))
	}
	if last != nil && !sleep(ctx, pauseBefore(d.Quiet, last.Elapsed)) {
		return
	}
	var shot *workspace.Shot
	s.whenSlow(ctx, "Studying "+filepath.Base(d.Path), func() { shot, err = s.session.Shot(ctx, d) })
	if err != nil {
		s.logUnlessOver(ctx, err)
		return
	}
	if r.Broken() && last != nil {
		if !sleep(ctx, s.options.settle) {
			return
		}
	}
	s.show(shot)
}

// pauseBefore returns how long the study of a version waits for the next edit:
// not at all after an edit that stands alone, else as long as the last study
// took, which may be spent in vain.
func pauseBefore(quiet, lastStudy time.Duration) time.Duration {
	pause := min(lastStudy, longestPause)
	if quiet > 2*pause {
		return 0
	}
	return pause
}

// show notes what the study of a scene found and tells the client, also what
// that means for the configuration that governs it.
func (s *Server) show(shot *workspace.Shot) *root {
	d := shot.Doc
	r := rootOf(shot.Read, s.diagnose(shot.Read, shot.Notes))
	r.faulty, r.uses = len(shot.Problems()) > 0, shot.Uses
	if d.Open {
		r.shot = shot // the next edit starts from it
	} else {
		r.stamps = stampsOf(r, d.Since)
	}
	if s.board.put(d.URI, r) {
		s.followPage(shot)
		if d.Config.File != nil {
			s.judgeConfig(d.Config.File.Path)
		}
	}
	return r
}

// early returns what is known of a scene before its study: what is wrong with
// the text, and the notes of the last study where they are now.
func (s *Server) early(r *workspace.Read, last *workspace.Shot) *root {
	notes := r.Problems()
	found := s.diagnose(r, notes)
	if last != nil {
		for f, list := range s.diagnose(r, moved(last, r)) {
			found[f] = append(found[f], list...)
		}
	}
	known := rootOf(r, found)
	known.faulty, known.shot = len(notes) > 0, last
	return known
}

// moved returns the notes of a study where they are in a newer version of the
// text: those on its problems are left out, and so are those in files that the
// newer version does not read.
func moved(last *workspace.Shot, r *workspace.Read) []note.Note {
	notes := workspace.Carry(last, r)
	kept := notes[:0]
	for _, n := range notes {
		if n.HasFrames() {
			kept = append(kept, n)
		}
	}
	return kept
}

// sleep waits and reports whether it could do so to the end.
func sleep(ctx context.Context, d time.Duration) bool {
	if d <= 0 {
		return ctx.Err() == nil
	}
	t := time.NewTimer(d)
	defer t.Stop()
	select {
	case <-t.C:
		return true
	case <-ctx.Done():
		return false
	}
}

// logUnlessOver logs an error that is not just the end of its task.
func (s *Server) logUnlessOver(ctx context.Context, err error) {
	if err != nil && ctx.Err() == nil {
		s.log("%v", err)
	}
}
