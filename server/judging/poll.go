package judging

import (
	"context"
	"time"

	"curvelint/server/wire"
)

// pollPause is how often files are looked at for clients that cannot watch
// them.
const pollPause = 2 * time.Second

// Poll watches, for a client that cannot, the files that matter already: those
// that open scenes are made of, what governs them, and scenes judged on disk.
func (j *Judging) Poll(ctx context.Context) {
	seen := map[string]stamp{}
	for wire.Sleep(ctx, pollPause) {
		var changed []string
		for _, path := range j.watchedPaths() {
			now := stampOf(path)
			if before, known := seen[path]; known && before != now {
				changed = append(changed, path)
			}
			seen[path] = now
		}
		if len(changed) > 0 {
			j.OnDisk(changed)
		}
	}
}

// watchedPaths returns the paths of all files on disk that matter already.
func (j *Judging) watchedPaths() []string {
	paths := j.ledger.onDisk()
	for _, d := range j.session.Snapshot().Docs() {
		if path, ok := j.session.EarlierPath(d); ok {
			paths = append(paths, path)
		}
	}
	return paths
}
