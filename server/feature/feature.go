package feature

import (
	"context"
	"sync/atomic"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"curvelint/server/judging"
	"curvelint/server/show"
	"curvelint/server/wire"
	"curvelint/server/workspace"
)

// Features answers the requests of one session about its scenes. Its methods are
// those of the protocol, one file each.
type Features struct {
	protocol.UnimplementedServer

	session *workspace.Session
	client  *wire.Client
	judging *judging.Judging

	// Hints and Lenses switch those off when they are false, as the person wishes.
	Hints, Lenses atomic.Bool

	outlined atomic.Int64 // how long the last list of symbols was, and a little more
}

// New returns the features of a session.
func New(s *workspace.Session, c *wire.Client, j *judging.Judging) *Features {
	f := &Features{session: s, client: c, judging: j}
	f.Hints.Store(true)
	f.Lenses.Store(true)
	return f
}

// shown is what a study has to show, without its earlier pass.
func shown(shot *workspace.Shot) *show.Shot {
	return &show.Shot{Study: shot.Study, Notes: shot.Notes}
}

// OpenShot returns the study of the open scene that a request names. The error says
// that it is not open.
func (f *Features) OpenShot(ctx context.Context, u uri.URI) (*workspace.Shot, error) {
	shot, err := f.session.ShotAt(ctx, u)
	if err == nil && shot == nil {
		err = jsonrpc2.Errorf(jsonrpc2.InvalidParams, "%s is not an open scene", u)
	}
	return shot, err
}
