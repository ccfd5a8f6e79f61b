package server

import (
	"context"
	"errors"
	"fmt"
	"net"
	"sync"
)

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
