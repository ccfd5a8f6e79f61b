package server

import (
	"cmp"
	"encoding/json"
	"slices"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"curvelint/diagnostics/checks"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
	"curvelint/server/workspace"
)

// source names the tool beside each note.
const source = "curvelint"

// noteData goes with a note to the client and comes back when it asks for
// fixes, so that they are made for the very note that is shown.
type noteData struct {
	Check string  `json:"check"`
	Part  string  `json:"part"`
	First float64 `json:"first"`
	Last  float64 `json:"last"`
}

// found are notes by the file that they are in.
type found map[uri.URI][]protocol.Diagnostic

// diagnose turns the notes on a scene into the protocol's diagnostics, by
// file. The scene's own file is always among them.
func (s *Server) diagnose(r *workspace.Read, notes []note.Note) found {
	f := found{r.Doc.URI: nil}
	if foreign(r) {
		return f
	}
	for i := range notes {
		u := s.fileURI(r, notes[i].Span.File)
		f[u] = append(f[u], s.diagnostic(r, &notes[i]))
	}
	return f
}

// foreign reports whether a text is no scene and does not claim to be one by its
// name: an editor may send every JSON, XML or TOML file that is opened.
func foreign(r *workspace.Read) bool { return len(r.Scene.Parts) == 0 && !isScene(r.Doc.Path) }

// fileURI returns the URI of one of a scene's files.
func (s *Server) fileURI(r *workspace.Read, f scene.FileID) uri.URI {
	if f == 0 {
		return r.Doc.URI
	}
	return s.session.URIOf(r.FilePath(f))
}

// diagnostic turns one note into a diagnostic.
func (s *Server) diagnostic(r *workspace.Read, n *note.Note) protocol.Diagnostic {
	d := protocol.Diagnostic{
		Range:    s.spanRange(r.Lookup, n.Span),
		Severity: severity(n.Severity),
		Code:     protocol.String(n.Check),
		Source:   protocol.NewOptional(source),
		Message:  protocol.String(n.Message),
	}
	if s.can.codeDescription && checks.Find(n.Check) != nil {
		d.CodeDescription.Href = docURI(n.Check)
	}
	if s.can.unnecessary && slices.Contains(n.Tags, note.Unnecessary) {
		d.Tags = protocol.NewDiagnosticTags(protocol.DiagnosticTagUnnecessary)
	}
	if s.can.relatedPlaces {
		for i := range n.Related {
			place := &n.Related[i]
			d.RelatedInformation = append(d.RelatedInformation, protocol.DiagnosticRelatedInformation{
				Location: protocol.Location{URI: s.fileURI(r, place.Span.File), Range: s.spanRange(r.Lookup, place.Span)},
				Message:  place.Message,
			})
		}
	}
	if s.can.noteData {
		d.Data, _ = json.Marshal(noteData{n.Check, n.Part, n.First, n.Last})
	}
	return d
}

// docURI returns where the document about a check is found; the server itself
// shows it.
func docURI(check string) uri.URI { return uri.URI(docScheme + ":/explain/" + check + ".md") }

// docScheme is the scheme of the documents that the server writes.
const docScheme = "curvelint"

func severity(v note.Severity) protocol.DiagnosticSeverity {
	switch v {
	case note.Error:
		return protocol.DiagnosticSeverityError
	case note.Warning:
		return protocol.DiagnosticSeverityWarning
	case note.Information:
		return protocol.DiagnosticSeverityInformation
	}
	return protocol.DiagnosticSeverityHint
}

// sortDiagnostics puts diagnostics into their order: by place, then by check
// and message.
func sortDiagnostics(list []protocol.Diagnostic) {
	slices.SortStableFunc(list, func(a, b protocol.Diagnostic) int {
		return cmp.Or(
			comparePositions(a.Range.Start, b.Range.Start),
			comparePositions(a.Range.End, b.Range.End),
			cmp.Compare(a.Severity, b.Severity),
			cmp.Compare(codeOf(&a), codeOf(&b)),
			cmp.Compare(messageOf(&a), messageOf(&b)),
		)
	})
}

func comparePositions(a, b protocol.Position) int {
	return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Character, b.Character))
}

// codeOf returns the check of a diagnostic, "" if it is not one of ours.
func codeOf(d *protocol.Diagnostic) string {
	code, _ := d.Code.(protocol.String)
	return string(code)
}

func messageOf(d *protocol.Diagnostic) string {
	m, _ := d.Message.(protocol.String)
	return string(m)
}
