package server

import (
	"context"
	"fmt"
	"sync"
	"sync/atomic"
	"time"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"curvelint/server/workspace"
)

// phase is where a session stands.
type phase int32

// The phases of a session.
const (
	waiting phase = iota // for initialize
	running
	stopped // after shutdown
)

// Server is the language server of one session. Its methods are those of the
// protocol, one file each.
type Server struct {
	protocol.UnimplementedServer
	options Options
	client  protocol.Client
	session *workspace.Session
	phase   atomic.Int32
	aside   *setAside // texts on their way in, or nil
	exit    chan struct{}
	exited  sync.Once

	// can is what the client can do; set by initialize, then only read.
	can abilities
	// prefers is what the person wishes of the editor.
	prefers atomic.Pointer[preferences]

	board         *board
	registrations atomic.Int64
	busy          tasks
	pages         pages
	pictures      pictures
	outlined      atomic.Int64 // how long the last list of symbols was, and a little more
	judging       sync.Mutex   // held while a configuration is judged
	logging       sync.Mutex

	working sync.Mutex
	closed  bool           // no more work is begun
	work    sync.WaitGroup // everything in the background
}

// newServer returns a server that talks to client.
func newServer(client protocol.Client, o Options) *Server {
	if o.settle == 0 {
		o.settle = settleTime
	}
	if o.slow == 0 {
		o.slow = slow
	}
	s := &Server{options: o, client: client, session: workspace.New(), exit: make(chan struct{})}
	s.board = newBoard(s)
	s.prefers.Store(&preferences{InlayHints: true, CodeLens: true})
	return s
}

// patience is how long the end of a session waits for work that hangs, for
// example on a client that does not read.
const patience = 2 * time.Second

// stop ends everything in the background and waits for it.
func (s *Server) stop() {
	s.working.Lock()
	s.closed = true
	s.working.Unlock()
	s.session.Close()
	over := make(chan struct{})
	go func() { s.work.Wait(); close(over) }()
	select {
	case <-over:
	case <-time.After(patience):
	}
}

// background runs f until it is done or the session ends. A panic in it is
// logged.
func (s *Server) background(f func(ctx context.Context)) {
	s.working.Lock()
	defer s.working.Unlock()
	if s.closed {
		return
	}
	ctx := s.session.Lifetime()
	s.work.Go(func() {
		defer func() {
			if fault := recover(); fault != nil {
				s.log("background work: panic: %v", fault)
			}
		}()
		f(ctx)
	})
}

// log writes a line for whoever started the server.
func (s *Server) log(format string, args ...any) {
	if s.options.Log == nil {
		return
	}
	s.logging.Lock()
	defer s.logging.Unlock()
	fmt.Fprintf(s.options.Log, "curvelint: "+format+"\n", args...)
}

// shot returns the study of an open scene, as it stood when the call arrived;
// nil without an error when the text is not open or is no scene.
func (s *Server) shot(ctx context.Context, u uri.URI) (*workspace.Shot, error) {
	d := s.snapshot(ctx).Doc(u)
	if d == nil || d.IsConfig() {
		return nil, nil
	}
	return s.session.Shot(ctx, d)
}

// read returns the scene of an open text, which is there sooner than its
// study; nil without an error when the text is not open or is no scene.
func (s *Server) read(ctx context.Context, u uri.URI) (*workspace.Read, error) {
	d := s.snapshot(ctx).Doc(u)
	if d == nil || d.IsConfig() {
		return nil, nil
	}
	return s.session.Read(ctx, d)
}
