package editor

import (
	"path/filepath"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"curvelint/server/wire"
)

// Open opens a text.
func (e *Editor) Open(u uri.URI, text string) {
	e.T.Helper()
	if err := e.Server.DidOpen(e.T.Context(), &protocol.DidOpenTextDocumentParams{
		TextDocument: protocol.TextDocumentItem{URI: u, LanguageID: "usda", Version: 1, Text: text}}); err != nil {
		e.T.Fatal(err)
	}
}

// Replace sends one edit.
func (e *Editor) Replace(u uri.URI, version int32, r protocol.Range, text string) {
	e.T.Helper()
	e.Change(u, version, &protocol.TextDocumentContentChangePartial{Range: r, Text: text})
}

// Change sends edits, one after another.
func (e *Editor) Change(u uri.URI, version int32, changes ...protocol.TextDocumentContentChangeEvent) {
	e.T.Helper()
	if err := e.Server.DidChange(e.T.Context(), &protocol.DidChangeTextDocumentParams{
		TextDocument:   protocol.VersionedTextDocumentIdentifier{TextDocumentIdentifier: protocol.TextDocumentIdentifier{URI: u}, Version: version},
		ContentChanges: changes}); err != nil {
		e.T.Fatal(err)
	}
}

// Notes waits for notes on a version of a text.
func (e *Editor) Notes(u uri.URI, version int32) []protocol.Diagnostic {
	e.T.Helper()
	e.Await("notes on "+string(u), func() bool {
		p := e.Published[u]
		if p == nil {
			return false
		}
		v, ok := p.Version.Get()
		return ok && v == version
	})
	e.Mu.Lock()
	defer e.Mu.Unlock()
	return e.Published[u].Diagnostics
}

// Watched tells of files that changed on disk.
func (e *Editor) Watched(paths ...string) {
	e.T.Helper()
	p := &protocol.DidChangeWatchedFilesParams{}
	for _, path := range paths {
		p.Changes = append(p.Changes, protocol.FileEvent{URI: uri.File(path), Type: protocol.FileChangeTypeChanged})
	}
	if err := e.Server.DidChangeWatchedFiles(e.T.Context(), p); err != nil {
		e.T.Fatal(err)
	}
}

// Settled waits for the notes of the study of a version.
func (e *Editor) Settled(u uri.URI, version int32) []protocol.Diagnostic {
	e.T.Helper()
	d := e.Inside.Doc(u)
	for d == nil || d.Version != version {
		e.Notes(u, version)
		d = e.Inside.Doc(u)
	}
	e.Await("the study", func() bool {
		hash, done := e.Inside.Settled(d)
		return done && e.Published[u] != nil && wire.Hash(e.Published[u].Diagnostics) == hash
	})
	return e.Notes(u, version)
}

// Folders says which folders are opened and closed.
func (e *Editor) Folders(added, removed []string) {
	e.T.Helper()
	p := &protocol.DidChangeWorkspaceFoldersParams{}
	for _, dir := range added {
		p.Event.Added = append(p.Event.Added, protocol.WorkspaceFolder{URI: uri.File(dir), Name: filepath.Base(dir)})
	}
	for _, dir := range removed {
		p.Event.Removed = append(p.Event.Removed, protocol.WorkspaceFolder{URI: uri.File(dir), Name: filepath.Base(dir)})
	}
	if err := e.Server.DidChangeWorkspaceFolders(e.T.Context(), p); err != nil {
		e.T.Fatal(err)
	}
}
