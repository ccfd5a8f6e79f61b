package wire

import (
	"sync/atomic"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
)

// Phase is where a session stands. The zero value waits for initialize.
type Phase struct{ at atomic.Int32 }

// The phases of a session.
const (
	waiting = iota // for initialize
	running
	stopped // after shutdown
)

// Run begins the time between initialize and shutdown.
func (p *Phase) Run() { p.at.Store(running) }

// Stop ends it. Only exit may follow.
func (p *Phase) Stop() { p.at.Store(stopped) }

// Stopped reports whether the session was shut down.
func (p *Phase) Stopped() bool { return p.at.Load() == stopped }

// errNotInitialized answers what comes before initialize.
var errNotInitialized = jsonrpc2.Errorf(-32002, "expected the request initialize first")

// admit refuses messages that come too early or too late.
func (p *Phase) admit(req *jsonrpc2.Request) error {
	switch p.at.Load() {
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
