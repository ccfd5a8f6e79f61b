package judging

import (
	"context"
	"runtime/debug"
	"time"

	"curvelint/server/wire"
	"curvelint/server/workspace"
)

const (
	// idleTime is how long nothing large must change until memory is given back.
	idleTime = 3 * time.Second
	// largeText is how long a text is, in bytes, whose versions are worth that.
	largeText = 1 << 20
)

// giveBack gives the memory that earlier versions of a large text took back to
// the system once the session has been idle: the runtime keeps as much again as
// is in use, for work that an editor at rest does not have.
func (j *Judging) giveBack(d *workspace.Doc) {
	if d == nil || len(d.Text()) < largeText {
		return
	}
	j.client.Background.GoLatest("idle", func(ctx context.Context) {
		if wire.Sleep(ctx, idleTime) {
			debug.FreeOSMemory()
		}
	})
}
