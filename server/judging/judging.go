package judging

import (
	"sync"
	"time"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"curvelint/diagnostics/note"
	"curvelint/server/show"
	"curvelint/server/wire"
	"curvelint/server/workspace"
)

// Judging judges the texts of one session and tells its client.
type Judging struct {
	// Shown, if set, is told of each study of which the client was told.
	Shown func(*workspace.Shot)

	session *workspace.Session
	client  *wire.Client
	settle  time.Duration
	ledger  *ledger
	configs sync.Mutex // held while a configuration is judged
}

// New returns what judges the texts of a session. Settle is how long the notes on
// the last whole version of a file stay when the file looks half written: an export
// may just be under way.
func New(s *workspace.Session, c *wire.Client, settle time.Duration) *Judging {
	return &Judging{session: s, client: c, settle: settle, ledger: newLedger(s, c)}
}

// NotesOn returns the notes in a file, of its own scene and of those that read it.
func (j *Judging) NotesOn(u uri.URI) []protocol.Diagnostic { return j.ledger.notesOn(u) }

// Files returns all files about which something is known.
func (j *Judging) Files() map[uri.URI]bool { return j.ledger.files() }

// Configs returns the paths of the configurations that govern what was judged.
func (j *Judging) Configs() []string { return j.ledger.configs() }

// Fresh reports whether a scene on disk has been judged as it is now.
func (j *Judging) Fresh(u uri.URI) bool { return j.ledger.fresh(u) }

// Settled reports whether the client has been told of the study of the version of a
// text with an ID, and the wire.Hash of what it was told last.
func (j *Judging) Settled(u uri.URI, id uint64) (hash uint64, ok bool) {
	return j.ledger.settled(u, id)
}

// DropOutside forgets the scenes on disk that are in no folder of the workspace.
func (j *Judging) DropOutside() { j.ledger.dropOutside() }

// diagnose turns the notes on a scene into the protocol's diagnostics, by
// file. The scene's own file is always among them.
func (j *Judging) diagnose(r *workspace.Read, notes []note.Note) byFile {
	list := byFile{r.Doc.URI: nil}
	if r.Foreign() {
		return list
	}
	files := j.session.Files(r)
	for i := range notes {
		u := files.URI(notes[i].Span.File)
		list[u] = append(list[u], show.Diagnostic(j.client, files, &notes[i]))
	}
	return list
}
