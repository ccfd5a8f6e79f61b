package judging

import (
	"context"

	"curvelint/server/workspace"
)

// Changed judges an open text that is new, and the scenes that read it or that
// it governs.
func (j *Judging) Changed(d *workspace.Doc) {
	j.Follow(d)
	j.giveBack(d)
	j.Rejudge(j.session.Refresh([]string{d.Path}), []string{d.Path})
	if d.IsConfig() {
		j.followConfig(d.Path)
	}
}

// Closed takes in that a text is no longer open: from now on the file on disk
// counts. A scene inside a folder of the workspace is judged as it is there; notes
// on others go.
func (j *Judging) Closed(d *workspace.Doc) {
	j.client.Background.End(task(d.URI))
	j.giveBack(d)
	j.Rejudge(j.session.Refresh([]string{d.Path}), []string{d.Path})
	if d.IsConfig() {
		j.followConfig(d.Path)
	} else {
		j.followFile(d.URI, d.Path)
	}
}

// Rejudge judges open scenes of which there are new versions, and the scenes
// on disk that read one of the changed files or are governed otherwise now.
func (j *Judging) Rejudge(docs []*workspace.Doc, changed []string) {
	j.Follow(docs...)
	j.earlierChanged(changed)
	j.client.Background.Go(func(context.Context) {
		stale := j.ledger.stale(changed)
		if len(docs)+len(stale) > 0 {
			j.client.RefreshNotes()
		}
		for u, path := range stale {
			j.followFile(u, path)
		}
	})
}
