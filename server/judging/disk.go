package judging

import (
	"context"
	"errors"
	"io/fs"
	"path/filepath"
	"time"

	"go.lsp.dev/uri"

	"curvelint/diagnostics/config"
	"curvelint/server/wire"
	"curvelint/server/workspace"
)

// diskPause is how long a file on disk is left alone after a change, since
// programs write in pieces.
const diskPause = 100 * time.Millisecond

// OnDisk takes in that files changed on disk. Open texts are the client's, but
// what they read and what governs them may be among the files.
func (j *Judging) OnDisk(paths []string) {
	j.Rejudge(j.session.Refresh(paths), paths)
	for _, p := range paths {
		switch {
		case j.session.Snapshot().ByPath(p) != nil:
		case filepath.Base(p) == config.FileName:
			j.followConfig(p)
		case workspace.IsScene(p):
			j.followFile(uri.File(p), p)
		}
	}
}

// followFile judges a scene on disk in the background. Files outside the
// workspace are no longer of interest once they are closed.
func (j *Judging) followFile(u uri.URI, path string) {
	if _, inside := j.session.FolderOf(path); !inside {
		j.client.Background.Go(func(context.Context) { j.ledger.drop(u) })
		return
	}
	if j.client.Abilities.Pull {
		j.client.RefreshNotes()
		return
	}
	j.client.Background.GoLatest(task(u), func(ctx context.Context) {
		if wire.Sleep(ctx, diskPause) {
			j.File(ctx, u, path)
		}
	})
}

// File judges a scene on disk; the notes on a file that is gone go too.
// While the file looks half written, the notes on the last whole version stay.
func (j *Judging) File(ctx context.Context, u uri.URI, path string) {
	d, err := j.session.Load(u, path)
	if errors.Is(err, fs.ErrNotExist) {
		j.ledger.drop(u)
		return
	}
	if err != nil {
		j.client.Log.UnlessOver(ctx, err)
		return
	}
	shot, err := j.session.Shot(ctx, d)
	if err != nil {
		j.client.Log.UnlessOver(ctx, err)
		return
	}
	if len(shot.Scene.Parts) == 0 && !workspace.SurelyScene(path) {
		j.ledger.drop(u)
		return
	}
	if shot.Broken() && j.ledger.knows(u) && !wire.Sleep(ctx, j.settle) {
		return
	}
	j.tell(shot)
}
