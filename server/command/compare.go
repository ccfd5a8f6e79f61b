package server

import (
	"context"
	"errors"
	"net/url"
	"path/filepath"
	"strings"

	"go.lsp.dev/jsonrpc2"
	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	written "curvelint/diagnostics/passes/write"
	"curvelint/server/workspace"
)

// compareArguments name a scene. A client that shows the answer by itself is
// quiet.
type compareArguments struct {
	URI   uri.URI `json:"uri"`
	Quiet bool    `json:"quiet"`
}

// compared is what a compare command gives back.
type compared struct {
	Title string `json:"title"`
	Text  string `json:"text"`
}

// compare says what changed since the earlier pass: as a document if the client
// shows documents of the server's, else in a few words.
func (s *Server) compare(ctx context.Context, raw []byte) (any, error) {
	var a compareArguments
	if err := arguments(raw, &a, `{"uri": ...}`); err != nil {
		return nil, err
	}
	shot, err := s.sceneOf(ctx, a.URI)
	if err != nil {
		return nil, err
	}
	c, brief, err := s.comparison(ctx, shot)
	if err != nil {
		return nil, err
	}
	switch {
	case a.Quiet:
	case s.can.servesContent:
		s.reveal(ctx, protocol.Location{URI: comparisonURI(a.URI)})
	default:
		err = s.client.ShowMessage(ctx, &protocol.ShowMessageParams{Type: protocol.MessageTypeInfo, Message: brief})
	}
	return c, err
}

// comparison writes what changed since the earlier pass, in full and in a few
// words.
func (s *Server) comparison(ctx context.Context, shot *workspace.Shot) (full compared, brief string, err error) {
	c, err := s.session.Compare(ctx, shot)
	if errors.Is(err, workspace.ErrNoEarlier) {
		return full, "", jsonrpc2.Errorf(jsonrpc2.InvalidParams, "%v; name it there, as in [[pass]] name = \"*_polish.usda\" before = \"*_spline.usda\"", err)
	}
	if err != nil {
		return full, "", err
	}
	var b strings.Builder
	if err := written.Text(&b, c); err != nil {
		return full, "", err
	}
	_, lines := written.Heading(c)
	full = compared{Title: filepath.Base(shot.Doc.Path) + " since " + passName(c), Text: b.String()}
	return full, full.Title + ": " + strings.Join(lines, "; "), nil
}

// compareFolder is where comparisons are among the documents that the server
// writes.
const compareFolder = "/compare/"

// comparisonURI returns where the comparison of a scene with its earlier pass is
// found; the server itself shows it.
func comparisonURI(u uri.URI) uri.URI {
	name := url.PathEscape(filepath.Base(workspace.PathOf(u)) + ".txt")
	return uri.URI(docScheme + ":" + compareFolder + name + "?" + url.QueryEscape(string(u)))
}

// comparisonDocument returns the text of a comparison that a client asks for by
// its address; ok is false when the address is not of one.
func (s *Server) comparisonDocument(ctx context.Context, address *url.URL) (text string, ok bool, err error) {
	if !strings.HasPrefix(address.Path, compareFolder) {
		return "", false, nil
	}
	of, err := url.QueryUnescape(address.RawQuery)
	if err != nil {
		return "", true, err
	}
	shot, err := s.sceneOf(ctx, uri.URI(of))
	if err != nil {
		return "", true, err
	}
	c, _, err := s.comparison(ctx, shot)
	return c.Text, true, err
}
