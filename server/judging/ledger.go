package judging

import (
	"slices"
	"sync"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"curvelint/diagnostics"
	"curvelint/server/wire"
	"curvelint/server/workspace"
)

// ledger holds what has been found in every text that was judged. The notes of a
// file are those of its own scene and of other scenes that read it.
type ledger struct {
	session *workspace.Session
	pulled  func() bool // the client asks for notes and is not told

	// mu is held while the client is told, so that it hears things in order.
	// The goroutine that reads the client's messages never waits for it.
	mu        sync.Mutex
	entries   map[uri.URI]*entry
	published *wire.Publisher
}

// byFile are diagnostics by the file that they are in.
type byFile map[uri.URI][]protocol.Diagnostic

// entry is a text that was judged: a scene with what it reads, or a
// configuration. It keeps no text of a file on disk.
type entry struct {
	notes byFile
	// id, version and open are those of the text judged; 0 and false for a
	// configuration.
	id      uint64
	version int32
	open    bool
	opening uint64
	path    string
	config  *workspace.Config
	reads   []string // paths of the other files that the scene is made of
	// stamps are those of all files that a scene on disk was made of when it
	// was judged.
	stamps map[string]stamp

	// faulty is true when something is wrong with the text itself.
	faulty bool
	// shot is the last study of an open text: of this version once that is
	// done, of an earlier one before.
	shot *workspace.Shot
	uses *diagnostics.Uses
}

// entryOf begins the entry of a reading of a text.
func entryOf(r *workspace.Read, notes byFile) *entry {
	return &entry{notes: notes, id: r.Doc.ID, version: r.Doc.Version, open: r.Doc.Open, opening: r.Doc.Opening, path: r.Doc.Path,
		config: r.Doc.Config, reads: r.OtherFiles()}
}

// textVersion is what the client is told of the version judged.
func (e *entry) textVersion() wire.Version {
	if e == nil || !e.open {
		return wire.Version{}
	}
	return wire.Version{Open: true, Number: e.version, Opening: e.opening}
}

func newLedger(s *workspace.Session, c *wire.Client) *ledger {
	return &ledger{session: s, pulled: func() bool { return c.Abilities.Pull },
		entries: map[uri.URI]*entry{}, published: wire.NewPublisher(c)}
}

// put notes what was found in a text and tells the client of all files that
// this changes, unless a newer version has been seen in the meantime. It
// reports whether it did.
func (l *ledger) put(u uri.URI, e *entry) bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	old := l.entries[u]
	if !l.newest(u, e, old) {
		return false
	}
	l.entries[u] = e
	files := map[uri.URI]bool{}
	for f := range e.notes {
		files[f] = true
	}
	if old != nil {
		for f := range old.notes {
			files[f] = true
		}
	}
	l.tell(files)
	return true
}

// newest reports whether e may follow old.
func (l *ledger) newest(u uri.URI, e, old *entry) bool {
	if e.id == 0 {
		return true
	}
	open := l.session.Snapshot().Doc(u)
	if open != nil || e.open {
		return open != nil && open.ID == e.id
	}
	return old == nil || old.open || old.id <= e.id
}

// drop forgets an entry that is of no interest any more.
func (l *ledger) drop(u uri.URI) {
	l.mu.Lock()
	defer l.mu.Unlock()
	old := l.entries[u]
	if old == nil || l.session.Snapshot().Doc(u) != nil {
		return
	}
	delete(l.entries, u)
	files := map[uri.URI]bool{}
	for f := range old.notes {
		files[f] = true
	}
	l.tell(files)
}

// dropOutside forgets the entries on disk that are in no folder of the workspace.
func (l *ledger) dropOutside() {
	l.mu.Lock()
	var outside []uri.URI
	for u, e := range l.entries {
		if _, inside := l.session.FolderOf(e.path); e.id != 0 && !e.open && !inside {
			outside = append(outside, u)
		}
	}
	l.mu.Unlock()
	for _, u := range outside {
		l.drop(u)
	}
}

// tell publishes the notes of files where they changed; l.mu is held.
func (l *ledger) tell(files map[uri.URI]bool) {
	if l.pulled() {
		return
	}
	order := make([]uri.URI, 0, len(files))
	for f := range files {
		order = append(order, f)
	}
	slices.Sort(order)
	for _, f := range order {
		l.published.Tell(f, l.union(f), l.entries[f].textVersion())
	}
}

// union returns the notes in a file of all entries, each once; l.mu is held.
func (l *ledger) union(f uri.URI) []protocol.Diagnostic {
	var list []protocol.Diagnostic
	for _, e := range l.entries {
		list = append(list, e.notes[f]...)
	}
	return wire.InOrder(list)
}

// notesOn returns the notes in a file of all entries.
func (l *ledger) notesOn(f uri.URI) []protocol.Diagnostic {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.union(f)
}

// knows reports whether a text has been judged.
func (l *ledger) knows(u uri.URI) bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.entries[u] != nil
}

// files returns all files about which something is known.
func (l *ledger) files() map[uri.URI]bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	files := map[uri.URI]bool{}
	for _, e := range l.entries {
		for f := range e.notes {
			files[f] = true
		}
	}
	return files
}

// configs returns the paths of the configurations that govern the entries.
func (l *ledger) configs() []string {
	l.mu.Lock()
	defer l.mu.Unlock()
	var paths []string
	for _, e := range l.entries {
		if e.config != nil && e.config.File != nil && !slices.Contains(paths, e.config.File.Path) {
			paths = append(paths, e.config.File.Path)
		}
	}
	return paths
}

// faulty reports whether something was wrong with a text when it was last looked
// at.
func (l *ledger) faulty(u uri.URI) bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	e := l.entries[u]
	return e != nil && e.faulty
}

// lastWhole returns the last study of an earlier version of a text that did not
// look half written, or nil.
func (l *ledger) lastWhole(d *workspace.Doc) *workspace.Shot {
	l.mu.Lock()
	defer l.mu.Unlock()
	e := l.entries[d.URI]
	if e == nil || e.shot == nil || e.shot.Broken() || e.shot.Doc == d {
		return nil
	}
	return e.shot
}

// settled reports whether the client has been told of the study of a version, and
// the hash of what it was told.
func (l *ledger) settled(u uri.URI, id uint64) (hash uint64, ok bool) {
	l.mu.Lock()
	defer l.mu.Unlock()
	e := l.entries[u]
	return l.published.Heard(u), e != nil && e.id == id && e.shot != nil && e.shot.Doc.ID == id
}
