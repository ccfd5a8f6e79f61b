package server

import (
	"sync"
	"time"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"

	"curvelint/server/command"
	"curvelint/server/feature"
	"curvelint/server/judging"
	"curvelint/server/wire"
	"curvelint/server/workspace"
)

// Server is the language server of one session. Its methods are those of the
// protocol: its own are about the session, its texts and its settings; the others
// are those of its features and commands.
type Server struct {
	*feature.Features
	*command.Commands

	options    Options
	session    *workspace.Session
	client     *wire.Client
	judging    *judging.Judging
	conn       jsonrpc2.Conn
	dispatcher *wire.Dispatcher
	longTexts  *wire.LongTexts // on their way in, or nil

	exit   chan struct{}
	exited sync.Once
}

const (
	// settleTime is how long the notes on the last whole version of a file
	// stay when the file looks half written: an export may just be under way.
	settleTime = 2 * time.Second
	// slowTime is how long work may take before the person is told of it.
	slowTime = time.Second
)

// newServer returns a server that talks to client.
func newServer(client protocol.Client, o Options) *Server {
	if o.Settle == 0 {
		o.Settle = settleTime
	}
	if o.Slow == 0 {
		o.Slow = slowTime
	}
	session, log := workspace.New(), wire.NewLog(o.Log)
	s := &Server{options: o, session: session, exit: make(chan struct{})}
	s.client = &wire.Client{Client: client, Log: log, Slow: o.Slow, Background: wire.NewBackground(session.Lifetime(), log)}
	s.dispatcher = &wire.Dispatcher{Log: log, Arrived: session.Arrived}
	s.judging = judging.New(session, s.client, o.Settle)
	s.Features = feature.New(session, s.client, s.judging)
	s.Commands = command.New(session, s.client, s.Features)
	s.judging.Shown = s.Commands.FollowPage
	return s
}

// stop ends everything in the background and waits for it.
func (s *Server) stop() {
	s.session.Close()
	s.client.Background.Close()
}
