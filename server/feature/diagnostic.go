package feature

import (
	"context"
	"strconv"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"curvelint/server/wire"
)

// Diagnostic answers a client that asks for the notes on a document. A scene
// that looks half written keeps the notes on its last whole version for a
// while; the client is then told to ask again.
func (f *Features) Diagnostic(ctx context.Context, p *protocol.DocumentDiagnosticParams) (protocol.DocumentDiagnosticReport, error) {
	u := p.TextDocument.URI
	d := f.session.SnapshotAt(ctx).Doc(u)
	related := map[uri.URI]bool{}
	var list []protocol.Diagnostic
	switch {
	case d == nil:
		list = f.judging.NotesOn(u)
	case d.IsConfig():
		f.judging.Config(d.Path)
		list = f.judging.NotesOn(u)
	default:
		notes, err := f.judging.Ask(ctx, d)
		if err != nil {
			return nil, err
		}
		list = notes[u] // of the version asked for, even if there is a newer one
		if f.session.Current(d) {
			list = f.judging.NotesOn(u)
		}
		for other := range notes {
			related[other] = other != u && f.client.Abilities.RelatedFiles
		}
	}
	return f.report(list, p.PreviousResultID, related), nil
}

// report wraps up the notes on a document and on related ones; it says only
// that nothing changed when the client has them already.
func (f *Features) report(list []protocol.Diagnostic, previous *string, related map[uri.URI]bool) protocol.DocumentDiagnosticReport {
	others := map[uri.URI]protocol.FullDocumentDiagnosticReportOrUnchangedDocumentDiagnosticReport{}
	for other, wanted := range related {
		if wanted {
			more := f.judging.NotesOn(other)
			others[other] = &protocol.FullDocumentDiagnosticReport{Kind: full, ResultID: new(resultID(more)), Items: more}
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
	return strconv.FormatUint(wire.Hash(list), 36)
}
