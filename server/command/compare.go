package command

import (
	"context"
	"errors"
	"path/filepath"
	"strings"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"

	written "curvelint/diagnostics/passes/write"
	"curvelint/server/show"
	"curvelint/server/workspace"
)

// compared is what a compare command gives back.
type compared struct {
	Title string `json:"title"`
	Text  string `json:"text"`
}

// compare says what changed since the earlier pass: as a document if the client
// shows documents of the server's, else in a few words.
func (c *Commands) compare(ctx context.Context, raw []byte) (any, error) {
	var a show.CompareArguments
	if err := show.ReadArguments(raw, &a, `{"uri": ...}`); err != nil {
		return nil, err
	}
	shot, err := c.features.OpenShot(ctx, a.URI)
	if err != nil {
		return nil, err
	}
	full, brief, err := c.comparison(ctx, shot)
	if err != nil {
		return nil, err
	}
	switch {
	case a.Quiet:
	case c.client.Abilities.ServesContent:
		c.client.Reveal(ctx, protocol.Location{URI: show.ComparisonAddress(a.URI, filepath.Base(shot.Doc.Path))})
	default:
		err = c.client.Say(ctx, brief)
	}
	return full, err
}

// comparison writes what changed since the earlier pass, in full and in a few
// words.
func (c *Commands) comparison(ctx context.Context, shot *workspace.Shot) (full compared, brief string, err error) {
	since, err := c.session.Compare(ctx, shot)
	if errors.Is(err, workspace.ErrNoEarlier) {
		return full, "", jsonrpc2.Errorf(jsonrpc2.InvalidParams, "%v; name it there, as in [[pass]] name = \"*_polish.usda\" before = \"*_spline.usda\"", err)
	}
	if err != nil {
		return full, "", err
	}
	var b strings.Builder
	if err := written.Text(&b, since); err != nil {
		return full, "", err
	}
	_, lines := written.Heading(since)
	full = compared{Title: filepath.Base(shot.Doc.Path) + " since " + show.PassName(since), Text: b.String()}
	return full, full.Title + ": " + strings.Join(lines, "; "), nil
}
