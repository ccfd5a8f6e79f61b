package server

import (
	"context"
	"errors"
	"runtime/debug"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"

	"curvelint/server/workspace"
)

// codec encodes what is sent and received. The protocol package has one of
// its own but does not export it.
type codec struct{ jsonrpc2.JSONCodec }

func (codec) Marshal(v any) ([]byte, error) {
	if e, ok := v.(encoded); ok {
		return e, nil
	}
	return protocol.Marshal(v)
}

func (codec) Unmarshal(data []byte, v any) error { return protocol.Unmarshal(data, v) }

// snapshotKey is the key of the texts as they stood when a call arrived.
type snapshotKey struct{}

// errNotInitialized answers what comes before initialize.
var errNotInitialized = jsonrpc2.Errorf(-32002, "expected the request initialize first")

// handler returns what answers the client's messages. Notifications and the
// requests that change the server's own state are handled one after another in
// the order of the wire; other requests run side by side, each on the texts as
// they stood when it arrived. Neither a panic nor an error in answer to a
// notification, which the library takes for a broken connection, ends the
// session.
func (s *Server) handler() jsonrpc2.Handler {
	dispatch := s.large(protocol.ServerHandler(s, nil))
	calls := protocol.CancelHandler(func(ctx context.Context, req *jsonrpc2.Request) (any, error) {
		if !req.IsCall() {
			return nil, nil
		}
		ctx = context.WithValue(ctx, snapshotKey{}, s.session.Snapshot())
		jsonrpc2.Async(ctx) // the next message is read from here on
		return s.guard(ctx, req, dispatch)
	})
	return func(ctx context.Context, req *jsonrpc2.Request) (any, error) {
		var res any
		err := s.gate(req)
		switch {
		case err != nil:
		case req.Method() == protocol.MethodCancelRequest, req.IsCall() && !inline(req.Method()):
			res, err = calls(ctx, req)
		default:
			// The message's own context dies with it; what the handler
			// starts must not hang on it.
			res, err = s.guard(jsonrpc2.DetachContext(ctx), req, dispatch)
		}
		if err == nil {
			return res, nil
		}
		if !req.IsCall() {
			s.log("%s: %v", req.Method(), err)
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

// gate refuses messages that come too early or too late.
func (s *Server) gate(req *jsonrpc2.Request) error {
	switch phase(s.phase.Load()) {
	case waiting:
		switch req.Method() {
		case protocol.MethodInitialize, protocol.MethodExit:
			return nil
		}
		return errNotInitialized
	case running:
		if req.Method() == protocol.MethodInitialize {
			return jsonrpc2.Errorf(jsonrpc2.InvalidRequest, "initialize may be sent once only")
		}
	case stopped:
		if req.Method() != protocol.MethodExit {
			return jsonrpc2.Errorf(jsonrpc2.InvalidRequest, "expected exit after shutdown, found %s", req.Method())
		}
	}
	return nil
}

// guard runs a handler; a panic in it becomes an error.
func (s *Server) guard(ctx context.Context, req *jsonrpc2.Request, h jsonrpc2.Handler) (res any, err error) {
	defer func() {
		if fault := recover(); fault != nil {
			s.log("%s: panic: %v\n%s", req.Method(), fault, debug.Stack())
			res, err = nil, jsonrpc2.Errorf(jsonrpc2.InternalError, "%s failed by a fault of curvelint itself: %v", req.Method(), fault)
		}
	}()
	return h(ctx, req)
}

// snapshot returns the texts as they stood when the call of ctx arrived.
func (s *Server) snapshot(ctx context.Context) *workspace.Snapshot {
	if at, ok := ctx.Value(snapshotKey{}).(*workspace.Snapshot); ok {
		return at
	}
	return s.session.Snapshot()
}
