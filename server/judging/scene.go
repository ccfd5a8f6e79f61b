package judging

import (
	"context"
	"path/filepath"
	"time"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"curvelint/diagnostics/note"
	"curvelint/server/wire"
	"curvelint/server/workspace"
)

// longestPause bounds how long a study waits for the next edit.
const longestPause = 150 * time.Millisecond

// task is the name of the work on judging a text.
func task(u uri.URI) string { return "judge " + string(u) }

// Follow judges new versions of scenes in the background and tells the client.
// The judgement of an older version of the same scene ends. A client that asks
// for notes does so by itself when it changes a text.
func (j *Judging) Follow(docs ...*workspace.Doc) {
	if j.client.Abilities.Pull {
		return
	}
	for _, d := range docs {
		if d == nil || d.IsConfig() {
			continue
		}
		j.client.Background.GoLatest(task(d.URI), func(ctx context.Context) { j.judge(ctx, d) })
	}
}

// judge judges one version of a scene in two steps: what reading finds is told
// at once; the study follows, among edits in quick succession when none comes
// for as long as the last study took.
func (j *Judging) judge(ctx context.Context, d *workspace.Doc) {
	last := j.ledger.lastWhole(d)
	r, err := j.session.Read(ctx, d)
	if err != nil {
		j.client.Log.UnlessOver(ctx, err)
		return
	}
	if j.ledger.faulty(d.URI) || len(r.Problems()) > 0 {
		j.ledger.put(d.URI, j.early(r, last))
	}
	if last != nil && !wire.Sleep(ctx, pauseBefore(d.Quiet, last.Elapsed)) {
		return
	}
	var shot *workspace.Shot
	j.client.WhenSlow(ctx, "Studying "+filepath.Base(d.Path), func() { shot, err = j.session.Shot(ctx, d) })
	if err != nil {
		j.client.Log.UnlessOver(ctx, err)
		return
	}
	if r.Broken() && last != nil {
		if !wire.Sleep(ctx, j.settle) {
			return
		}
	}
	j.tell(shot)
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

// tell enters what the study of a scene found and tells the client, also what
// that means for the configuration that governs it.
func (j *Judging) tell(shot *workspace.Shot) *entry {
	d := shot.Doc
	e := entryOf(shot.Read, j.diagnose(shot.Read, shot.Notes))
	e.faulty, e.uses = len(shot.Problems()) > 0, shot.Uses
	if d.Open {
		e.shot = shot // the next edit starts from it
	} else {
		e.stamps = stampsOf(e, d.Since)
	}
	if j.ledger.put(d.URI, e) {
		if j.Shown != nil {
			j.Shown(shot)
		}
		if d.Config.File != nil {
			j.followConfig(d.Config.File.Path)
		}
	}
	return e
}

// Ask judges an open scene for a client that asks, and returns what is to be shown
// of that version, by file. A scene that looks half written keeps the notes on its
// last whole version for a while; the client is then told to ask again.
func (j *Judging) Ask(ctx context.Context, d *workspace.Doc) (map[uri.URI][]protocol.Diagnostic, error) {
	last := j.ledger.lastWhole(d)
	shot, err := j.session.Shot(ctx, d)
	if err != nil {
		return nil, err
	}
	if !shot.Broken() || last == nil {
		return j.tell(shot).notes, nil
	}
	e := j.early(shot.Read, last)
	if j.ledger.put(d.URI, e) {
		j.client.Background.GoLatest(task(d.URI), func(ctx context.Context) {
			if wire.Sleep(ctx, j.settle) {
				j.tell(shot)
				j.client.RefreshNotes()
			}
		})
	}
	return e.notes, nil
}

// early returns what is known of a scene before its study: what is wrong with
// the text, and the notes of the last study where they are now.
func (j *Judging) early(r *workspace.Read, last *workspace.Shot) *entry {
	problems := r.Problems()
	notes := j.diagnose(r, problems)
	if last != nil {
		for f, list := range j.diagnose(r, moved(last, r)) {
			notes[f] = append(notes[f], list...)
		}
	}
	e := entryOf(r, notes)
	e.faulty, e.shot = len(problems) > 0, last
	return e
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
