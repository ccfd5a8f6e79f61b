package server

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"sync"
	"time"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
)

// Options are what a session is started with.
type Options struct {
	// Version is told to the client.
	Version string
	// Log receives what goes wrong on the wire, and every message if Trace is
	// set; nil keeps silent.
	Log   io.Writer
	Trace bool

	// settle is how long the notes on the last whole version of a file stay
	// when the file looks half written; 0 means settleTime.
	settle time.Duration
	// slow is how long work may take before the person is told; 0 means slow.
	slow time.Duration
}

// Serve runs one session over conn until the client says exit or the
// connection ends, and returns the exit status that the protocol asks for: 0
// after shutdown, else 1. On exit it does not close conn: a read of standard
// input cannot be interrupted, and the process ends anyway.
func Serve(ctx context.Context, conn io.ReadWriteCloser, o Options) int {
	s, c := connect(ctx, conn, o)
	return s.finish(ctx, c)
}

// connect starts a session over conn.
func connect(ctx context.Context, conn io.ReadWriteCloser, o Options) (*Server, jsonrpc2.Conn) {
	stream := newStream(conn)
	var wire jsonrpc2.Stream = stream
	if o.Trace && o.Log != nil {
		wire = &traced{Stream: wire, log: o.Log} // messages as they come
	} else {
		stream.aside = new(setAside)
	}
	c := jsonrpc2.NewConn(wire, jsonrpc2.WithCodec(codec{}))
	s := newServer(protocol.ClientDispatcher(c), o)
	s.aside = stream.aside
	c.Go(ctx, s.handler())
	return s, c
}

// finish waits for the end of a session and returns its exit status.
func (s *Server) finish(ctx context.Context, c jsonrpc2.Conn) int {
	defer s.stop()
	select {
	case <-s.exit:
	case <-c.Done():
	case <-ctx.Done():
	}
	if phase(s.phase.Load()) != stopped {
		return 1
	}
	return 0
}

// Listen serves sessions on a local address such as 127.0.0.1:4389, each
// connection one session, until ctx ends. It tells ready the address it
// listens on. Addresses that other machines can reach are refused.
func Listen(ctx context.Context, address string, o Options, ready func(net.Addr)) error {
	if err := local(address); err != nil {
		return err
	}
	var lc net.ListenConfig
	l, err := lc.Listen(ctx, "tcp", address)
	if err != nil {
		return fmt.Errorf("cannot listen on %s: %w; choose another port", address, err)
	}
	stop := context.AfterFunc(ctx, func() { l.Close() })
	defer stop()
	ready(l.Addr())
	var sessions sync.WaitGroup
	defer sessions.Wait()
	for {
		c, err := l.Accept()
		if errors.Is(err, net.ErrClosed) {
			return nil
		}
		if err != nil {
			return err
		}
		sessions.Go(func() {
			unhook := context.AfterFunc(ctx, func() { c.Close() })
			defer unhook()
			Serve(ctx, c, o)
			c.Close()
		})
	}
}

// local returns an error for an address that is not on this machine alone.
func local(address string) error {
	host, _, err := net.SplitHostPort(address)
	if err != nil {
		return fmt.Errorf("expected an address such as 127.0.0.1:4389, found %q", address)
	}
	if ip := net.ParseIP(host); host == "localhost" || ip != nil && ip.IsLoopback() {
		return nil
	}
	return fmt.Errorf("%s can be reached from other machines; use 127.0.0.1:PORT", address)
}
