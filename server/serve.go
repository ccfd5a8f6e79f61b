package server

import (
	"context"
	"io"
	"time"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"

	"curvelint/server/wire"
)

// Options are what a session is started with.
type Options struct {
	// Version is told to the client.
	Version string
	// Log receives what goes wrong on the wire, and every message if Trace is
	// set; nil keeps silent.
	Log   io.Writer
	Trace bool

	// Settle is how long the notes on the last whole version of a file stay when
	// the file looks half written; 0 means two seconds.
	Settle time.Duration
	// Slow is how long work may take before the person is told; 0 means a second.
	Slow time.Duration
}

// Serve runs one session over conn until the client says exit or the
// connection ends, and returns the exit status that the protocol asks for: 0
// after shutdown, else 1. On exit it does not close conn: a read of standard
// input cannot be interrupted, and the process ends anyway.
func Serve(ctx context.Context, conn io.ReadWriteCloser, o Options) int {
	s := Connect(ctx, conn, o)
	return s.Finish(ctx)
}

// Connect starts a session over conn. Finish must be called.
func Connect(ctx context.Context, conn io.ReadWriteCloser, o Options) *Server {
	raw := wire.NewStream(conn)
	var messages jsonrpc2.Stream = raw
	if o.Trace && o.Log != nil {
		messages = wire.Trace(raw, o.Log) // messages as they come
	} else {
		raw.LongTexts = new(wire.LongTexts)
	}
	c := jsonrpc2.NewConn(messages, jsonrpc2.WithCodec(wire.Codec{}))
	s := newServer(protocol.ClientDispatcher(c), o)
	s.conn, s.longTexts = c, raw.LongTexts
	c.Go(ctx, s.dispatcher.Handler(s.large(protocol.ServerHandler(s, nil))))
	return s
}

// Finish waits for the end of a session and returns its exit status.
func (s *Server) Finish(ctx context.Context) int {
	defer s.stop()
	select {
	case <-s.exit:
	case <-s.conn.Done():
	case <-ctx.Done():
	}
	if !s.dispatcher.Phase.Stopped() {
		return 1
	}
	return 0
}
