package server

import (
	"os"
	"path/filepath"
	"strings"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"curvelint/diagnostics/config"
	"curvelint/diagnostics/fixes"
	"curvelint/parse/text"
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
func (s *Server) workspaceEdit(shot *workspace.Shot, f *fixes.Fix) *protocol.WorkspaceEdit {
	var files []fileEdits
	for _, e := range f.Edits {
		u := s.fileURI(shot.Read, e.Span.File)
		if n := len(files); n == 0 || files[n-1].uri != u {
			files = append(files, fileEdits{uri: u, version: s.versionOf(u)})
		}
		last := &files[len(files)-1]
		last.edits = append(last.edits, protocol.TextEdit{Range: s.spanRange(shot.Lookup, e.Span), NewText: e.Text})
	}
	return s.wrap(f.Title, files)
}

// versionOf returns the version of an open text, nil for others.
func (s *Server) versionOf(u uri.URI) *int32 {
	if d := s.session.Snapshot().Doc(u); d != nil {
		return new(d.Version)
	}
	return nil
}

// annotationID names the one annotation of an edit.
const annotationID = "curvelint"

// wrap writes edits the way the client takes them.
func (s *Server) wrap(label string, files []fileEdits) *protocol.WorkspaceEdit {
	w := &protocol.WorkspaceEdit{}
	if !s.can.documentChanges {
		w.Changes = map[uri.URI][]protocol.TextEdit{}
		for _, f := range files {
			w.Changes[f.uri] = append(w.Changes[f.uri], f.edits...)
		}
		return w
	}
	if s.can.annotations {
		w.ChangeAnnotations = map[protocol.ChangeAnnotationIdentifier]protocol.ChangeAnnotation{
			annotationID: {Label: label}}
	}
	for _, f := range files {
		if f.create && s.can.createsFiles {
			w.DocumentChanges = append(w.DocumentChanges, &protocol.CreateFile{Kind: "create", URI: f.uri, Options: &protocol.CreateFileOptions{IgnoreIfExists: new(true)}})
		}
		e := &protocol.TextDocumentEdit{TextDocument: protocol.OptionalVersionedTextDocumentIdentifier{
			TextDocumentIdentifier: protocol.TextDocumentIdentifier{URI: f.uri}, Version: f.version}}
		for i := range f.edits {
			if s.can.annotations {
				e.Edits = append(e.Edits, &protocol.AnnotatedTextEdit{TextEdit: f.edits[i], AnnotationID: annotationID})
			} else {
				e.Edits = append(e.Edits, &f.edits[i])
			}
		}
		w.DocumentChanges = append(w.DocumentChanges, e)
	}
	return w
}

// allowEdit returns the edit that adds an allowance to the curvelint.toml that
// governs a scene, or makes one, and where the reason will stand in it.
func (s *Server) allowEdit(shot *workspace.Shot, a *config.Allow) (*protocol.WorkspaceEdit, protocol.Location) {
	path, src := s.configFile(shot.Doc)
	x := text.NewIndex(src)
	u := s.session.URIOf(path)
	entry := fixes.AppendAllow(a, src)
	end := s.position(x, len(src))
	_, err := os.Stat(path)
	edit := s.wrap("Allow "+a.Check, []fileEdits{{uri: u, version: s.versionOf(u), create: err != nil && s.versionOf(u) == nil,
		edits: []protocol.TextEdit{{Range: protocol.Range{Start: end, End: end}, NewText: entry}}}})

	after := text.NewIndex(append(append([]byte(nil), src...), entry...))
	start := len(src) + strings.LastIndex(entry, a.Why)
	return edit, protocol.Location{URI: u, Range: s.rangeOf(after, start, start+len(a.Why))}
}

// configFile returns the path and the text of the curvelint.toml that governs
// a scene: of the one there will be when there is none, in the folder of the
// workspace.
func (s *Server) configFile(d *workspace.Doc) (string, []byte) {
	if d.Config.File != nil {
		path := d.Config.File.Path
		if open := s.session.Snapshot().ByPath(path); open != nil {
			return path, open.Text()
		}
		return path, d.Config.File.Text
	}
	root, _ := s.session.Root(d.Path)
	return filepath.Join(root, config.FileName), nil
}
