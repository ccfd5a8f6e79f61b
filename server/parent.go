package server

import (
	"context"
	"os"
	"syscall"
	"time"

	"curvelint/server/wire"
)

// parentPause is how often the client's process is looked for.
const parentPause = 2 * time.Second

// watchParent ends the session when the process that started it is gone, as
// the protocol asks.
func (s *Server) watchParent(pid int) {
	if pid <= 0 || !alive(pid) {
		return // a client that does not tell the truth
	}
	s.client.Background.Go(func(ctx context.Context) {
		for wire.Sleep(ctx, parentPause) {
			if !alive(pid) {
				s.client.Log.Printf("the process %d that started the session is gone", pid)
				s.exited.Do(func() { close(s.exit) })
				return
			}
		}
	})
}

// alive reports whether a process exists.
func alive(pid int) bool {
	p, err := os.FindProcess(pid)
	if err != nil {
		return false
	}
	defer p.Release()
	err = p.Signal(syscall.Signal(0))
	return err == nil || err == syscall.EPERM
}
