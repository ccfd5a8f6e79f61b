package workspace

import (
	"go.lsp.dev/uri"

	"curvelint/diagnostics"
	"curvelint/diagnostics/note"
	"curvelint/parse/scene"
	"curvelint/parse/text"
)

// Files are the files that a scene was read from.
type Files struct {
	session *Session
	read    *Read
}

// Files returns the files of a reading.
func (s *Session) Files(r *Read) Files { return Files{s, r} }

// URI returns the URI of one of the files.
func (f Files) URI(id scene.FileID) uri.URI {
	if id == 0 {
		return f.read.Doc.URI
	}
	return f.session.URIOf(f.read.FilePath(id))
}

// Index returns the lines of one of the files.
func (f Files) Index(id scene.FileID) *text.Index { return f.read.Lookup.Index(id) }

// Problems returns the notes on what is wrong with the text itself, which are
// known before the study is.
func (r *Read) Problems() []note.Note {
	return diagnostics.ProblemNotes(r.Scene, r.Doc.Config.Config)
}

// FilePath returns the path of one of the scene's files.
func (r *Read) FilePath(f scene.FileID) string {
	if f == 0 {
		return r.Doc.Path
	}
	return absolute(r.Doc.Path, r.Scene.Files[f].Path)
}

// OtherFiles returns the paths of the files that the scene is made of, or
// should be, besides the one that was opened.
func (r *Read) OtherFiles() []string {
	var paths []string
	for i := 1; i < len(r.Scene.Files); i++ {
		paths = append(paths, r.FilePath(scene.FileID(i)))
	}
	return paths
}
