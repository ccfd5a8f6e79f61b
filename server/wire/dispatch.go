package wire

import (
	"context"
	"errors"
	"runtime/debug"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
)

// Dispatcher hands the client's messages on in the order of the wire.
type Dispatcher struct {
	Phase Phase
	Log   *Log
	// Arrived returns the context in which a call is answered. It is asked when the
	// call arrives, before the next message is read.
	Arrived func(context.Context) context.Context
}

// Handler returns what answers the client's messages with h. Notifications and the
// requests that change the server's own state are handled one after another in
// the order of the wire; other requests run side by side, each on what there was
// when it arrived. Neither a panic nor an error in answer to a notification, which
// the library takes for a broken connection, ends the session.
func (d *Dispatcher) Handler(h jsonrpc2.Handler) jsonrpc2.Handler {
	calls := protocol.CancelHandler(func(ctx context.Context, req *jsonrpc2.Request) (any, error) {
		if !req.IsCall() {
			return nil, nil
		}
		ctx = d.Arrived(ctx)
		jsonrpc2.Async(ctx) // the next message is read from here on
		return d.guard(ctx, req, h)
	})
	return func(ctx context.Context, req *jsonrpc2.Request) (any, error) {
		var res any
		err := d.Phase.admit(req)
		switch {
		case err != nil:
		case req.Method() == protocol.MethodCancelRequest, req.IsCall() && !inline(req.Method()):
			res, err = calls(ctx, req)
		default:
			// The message's own context dies with it; what the handler
			// starts must not hang on it.
			res, err = d.guard(jsonrpc2.DetachContext(ctx), req, h)
		}
		if err == nil {
			return res, nil
		}
		if !req.IsCall() {
			d.Log.Printf("%s: %v", req.Method(), err)
			return nil, nil
		}
		if errors.Is(err, context.Canceled) {
			err = protocol.ErrRequestCancelled
		}
		return nil, err
	}
}

// inline reports whether a request changes the server's own state and so must
// be over before the next message is read.
func inline(method string) bool {
	return method == protocol.MethodInitialize || method == protocol.MethodShutdown
}

// guard runs a handler; a panic in it becomes an error.
func (d *Dispatcher) guard(ctx context.Context, req *jsonrpc2.Request, h jsonrpc2.Handler) (res any, err error) {
	defer func() {
		if fault := recover(); fault != nil {
			d.Log.Printf("%s: panic: %v\n%s", req.Method(), fault, debug.Stack())
			res, err = nil, jsonrpc2.Errorf(jsonrpc2.InternalError, "%s failed by a fault of curvelint itself: %v", req.Method(), fault)
		}
	}()
	return h(ctx, req)
}
