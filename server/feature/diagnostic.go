package server

import (
	"context"
	"strconv"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"curvelint/server/workspace"
)

// Diagnostic answers a client that asks for the notes on a document. A scene
// that looks half written keeps the notes on its last whole version for a
// while; the client is then told to ask again.
func (s *Server) Diagnostic(ctx context.Context, p *protocol.DocumentDiagnosticParams) (protocol.DocumentDiagnosticReport, error) {
	u := p.TextDocument.URI
	d := s.snapshot(ctx).Doc(u)
	related := map[uri.URI]bool{}
	var list []protocol.Diagnostic
	switch {
	case d == nil:
		list = s.board.notesOn(u)
	case d.IsConfig():
		s.judgeConfigNow(d.Path)
		list = s.board.notesOn(u)
	default:
		r, err := s.pulled(ctx, d)
		if err != nil {
			return nil, err
		}
		list = r.found[u] // of the version asked for, even if there is a newer one
		if s.session.Current(d) {
			list = s.board.notesOn(u)
		}
		for f := range r.found {
			related[f] = f != u && s.can.relatedFiles
		}
	}
	return s.report(list, p.PreviousResultID, related), nil
}

// pulled judges an open scene for a client that asks, and returns what is to
// be shown.
func (s *Server) pulled(ctx context.Context, d *workspace.Doc) (*root, error) {
	last := s.board.lastGood(d)
	shot, err := s.session.Shot(ctx, d)
	if err != nil {
		return nil, err
	}
	if !shot.Broken() || last == nil {
		return s.show(shot), nil
	}
	r := s.early(shot.Read, last)
	if s.board.put(d.URI, r) {
		task, done := s.busy.begin(s.session.Lifetime(), d.URI)
		s.background(func(context.Context) {
			defer done()
			if sleep(task, s.options.settle) {
				s.show(shot)
				s.refreshNotes()
			}
		})
	}
	return r, nil
}

// report wraps up the notes on a document and on related ones; it says only
// that nothing changed when the client has them already.
func (s *Server) report(list []protocol.Diagnostic, previous *string, related map[uri.URI]bool) protocol.DocumentDiagnosticReport {
	others := map[uri.URI]protocol.FullDocumentDiagnosticReportOrUnchangedDocumentDiagnosticReport{}
	for f, wanted := range related {
		if wanted {
			more := s.board.notesOn(f)
			others[f] = &protocol.FullDocumentDiagnosticReport{Kind: full, ResultID: new(resultID(more)), Items: more}
		}
	}
	id := resultID(list)
	if previous != nil && *previous == id {
		r := &protocol.RelatedUnchangedDocumentDiagnosticReport{}
		r.Kind, r.ResultID = unchanged, id
		if len(others) > 0 {
			r.RelatedDocuments = others
		}
		return r
	}
	r := &protocol.RelatedFullDocumentDiagnosticReport{}
	r.Kind, r.ResultID, r.Items = full, &id, list
	if len(others) > 0 {
		r.RelatedDocuments = others
	}
	return r
}

// The kinds of reports.
const (
	full      = "full"
	unchanged = "unchanged"
)

// resultID names a list of notes.
func resultID(list []protocol.Diagnostic) string {
	return strconv.FormatUint(hashOf(list), 36)
}

// refreshNotes tells a client that asks for notes to ask again, once for many
// reasons that come together.
func (s *Server) refreshNotes() {
	if !s.can.pull {
		return
	}
	ctx, done := s.busy.begin(s.session.Lifetime(), refreshTask)
	s.background(func(context.Context) {
		defer done()
		if sleep(ctx, diskPause) {
			s.logUnlessOver(ctx, s.client.DiagnosticRefresh(ctx))
		}
	})
}

// refreshTask is the name under which refreshing is a task.
const refreshTask uri.URI = "curvelint:refresh"
