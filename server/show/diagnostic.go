package show

import (
	"encoding/json"
	"slices"

	"go.lsp.dev/protocol"

	"curvelint/diagnostics/checks"
	"curvelint/diagnostics/note"
	"curvelint/parse/text"
	"curvelint/server/wire"
)

// Source names the tool beside each note.
const Source = "curvelint"

// NoteData goes with a note to the client and comes back when it asks for
// fixes, so that they are made for the very note that is shown.
type NoteData struct {
	Check string  `json:"check"`
	Part  string  `json:"part"`
	First float64 `json:"first"` // display frames
	Last  float64 `json:"last"`
}

// DataOf returns what goes with a note.
func DataOf(n *note.Note) NoteData { return NoteData{n.Check, n.Part, n.First, n.Last} }

// Of reports whether a note is the one that the data go with.
func (d *NoteData) Of(n *note.Note) bool {
	return n.Check == d.Check && n.Part == d.Part && n.First == d.First && n.Last == d.Last
}

// Diagnostic turns a note on a scene into what a client takes.
func Diagnostic(c *wire.Client, of wire.Files, n *note.Note) protocol.Diagnostic {
	d := brief(n)
	d.Range = c.Span(of, n.Span)
	if c.Abilities.CodeDescription && checks.Find(n.Check) != nil {
		d.CodeDescription.Href = CheckAddress(n.Check)
	}
	if c.Abilities.Unnecessary && slices.Contains(n.Tags, note.Unnecessary) {
		d.Tags = protocol.NewDiagnosticTags(protocol.DiagnosticTagUnnecessary)
	}
	if c.Abilities.RelatedPlaces {
		for i := range n.Related {
			place := &n.Related[i]
			d.RelatedInformation = append(d.RelatedInformation, protocol.DiagnosticRelatedInformation{
				Location: c.Location(of, place.Span),
				Message:  place.Message,
			})
		}
	}
	if c.Abilities.NoteData {
		d.Data, _ = json.Marshal(DataOf(n))
	}
	return d
}

// ConfigDiagnostic turns a note on a curvelint.toml, whose lines are x, into what a
// client takes.
func ConfigDiagnostic(c *wire.Client, x *text.Index, n *note.Note) protocol.Diagnostic {
	d := brief(n)
	d.Range = c.Range(x, int(n.Span.Start), int(n.Span.End))
	if c.Abilities.CodeDescription {
		d.CodeDescription.Href = CheckAddress(n.Check)
	}
	return d
}

// brief is what every client takes of a note, but for its place.
func brief(n *note.Note) protocol.Diagnostic {
	return protocol.Diagnostic{
		Severity: severity(n.Severity),
		Code:     protocol.String(n.Check),
		Source:   protocol.NewOptional(Source),
		Message:  protocol.String(n.Message),
	}
}

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
