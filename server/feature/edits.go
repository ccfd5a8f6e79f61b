package feature

import (
	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"curvelint/diagnostics/fixes"
	"curvelint/server/workspace"
)

// fileEdits are the edits of one file.
type fileEdits struct {
	uri     uri.URI
	version *int32 // nil for a file that is not open
	create  bool   // the file is not there yet
	edits   []protocol.TextEdit
}

// workspaceEdit turns a fix into an edit of the client's, with the preview as
// its annotation.
func (f *Features) workspaceEdit(shot *workspace.Shot, fix *fixes.Fix) *protocol.WorkspaceEdit {
	var files []fileEdits
	for _, e := range fix.Edits {
		u := f.session.Files(shot.Read).URI(e.Span.File)
		if n := len(files); n == 0 || files[n-1].uri != u {
			files = append(files, fileEdits{uri: u, version: f.versionOf(u)})
		}
		last := &files[len(files)-1]
		last.edits = append(last.edits, protocol.TextEdit{Range: f.client.Span(shot.Lookup, e.Span), NewText: e.Text})
	}
	return f.wrap(fix.Title, files)
}

// versionOf returns the version of an open text, nil for others.
func (f *Features) versionOf(u uri.URI) *int32 {
	if d := f.session.Snapshot().Doc(u); d != nil {
		return new(d.Version)
	}
	return nil
}

// annotationID names the one annotation of an edit.
const annotationID = "curvelint"

// wrap writes edits the way the client takes them.
func (f *Features) wrap(label string, files []fileEdits) *protocol.WorkspaceEdit {
	w := &protocol.WorkspaceEdit{}
	if !f.client.Abilities.DocumentChanges {
		w.Changes = map[uri.URI][]protocol.TextEdit{}
		for _, file := range files {
			w.Changes[file.uri] = append(w.Changes[file.uri], file.edits...)
		}
		return w
	}
	if f.client.Abilities.Annotations {
		w.ChangeAnnotations = map[protocol.ChangeAnnotationIdentifier]protocol.ChangeAnnotation{
			annotationID: {Label: label}}
	}
	for _, file := range files {
		if file.create && f.client.Abilities.CreatesFiles {
			w.DocumentChanges = append(w.DocumentChanges, &protocol.CreateFile{Kind: "create", URI: file.uri, Options: &protocol.CreateFileOptions{IgnoreIfExists: new(true)}})
		}
		e := &protocol.TextDocumentEdit{TextDocument: protocol.OptionalVersionedTextDocumentIdentifier{
			TextDocumentIdentifier: protocol.TextDocumentIdentifier{URI: file.uri}, Version: file.version}}
		for i := range file.edits {
			if f.client.Abilities.Annotations {
				e.Edits = append(e.Edits, &protocol.AnnotatedTextEdit{TextEdit: file.edits[i], AnnotationID: annotationID})
			} else {
				e.Edits = append(e.Edits, &file.edits[i])
			}
		}
		w.DocumentChanges = append(w.DocumentChanges, e)
	}
	return w
}
