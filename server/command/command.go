package command

import (
	"curvelint/server/feature"
	"curvelint/server/wire"
	"curvelint/server/workspace"
)

// Commands executes the commands of one session.
type Commands struct {
	session  *workspace.Session
	client   *wire.Client
	features *feature.Features

	pages    pages
	pictures pictures
}

// New returns the commands of a session.
func New(s *workspace.Session, c *wire.Client, f *feature.Features) *Commands {
	return &Commands{session: s, client: c, features: f}
}
