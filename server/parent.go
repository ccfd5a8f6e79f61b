package server

import (
	"context"
	"os"
	"syscall"
	"time"
)

// parentPause is how often the client's process is looked for.
const parentPause = 2 * time.Second

// watchParent ends the session when the process that started it is gone, as
// the protocol asks.
func (s *Server) watchParent(pid int) {
	if pid <= 0 || !alive(pid) {
		return // a client that does not tell the truth
	}
	s.background(func(ctx context.Context) {
		for sleep(ctx, parentPause) {
			if !alive(pid) {
				s.log("the process %d that started the session is gone", pid)
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
