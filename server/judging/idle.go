package server

import (
	"context"
	"runtime/debug"
	"time"

	"go.lsp.dev/uri"

	"curvelint/server/workspace"
)

const (
	// idleTime is how long nothing large must change until memory is given back.
	idleTime = 3 * time.Second
	// largeText is how long a text is whose versions are worth that.
	largeText = 1 << 20
)

// idleTask is the name under which giving back memory is a task.
const idleTask uri.URI = "curvelint:idle"

// giveBack gives the memory that earlier versions of a large text took back to
// the system once the session has been idle: the runtime keeps as much again as
// is in use, for work that an editor at rest does not have.
func (s *Server) giveBack(d *workspace.Doc) {
	if d == nil || len(d.Text()) < largeText {
		return
	}
	ctx, done := s.busy.begin(s.session.Lifetime(), idleTask)
	s.background(func(context.Context) {
		defer done()
		if sleep(ctx, idleTime) {
			debug.FreeOSMemory()
		}
	})
}
