package server

import (
	"context"
	"hash/fnv"
	"slices"
	"sync"
	"time"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"curvelint/diagnostics"
	"curvelint/server/workspace"
)

// board holds what has been found in every file that was judged, and what the
// client has been told of it. The notes of a file are those of its own scene
// and of other scenes that read it.
type board struct {
	server *Server

	// mu is held while the client is told, so that it hears things in order.
	// The goroutine that reads the client's messages never waits for it.
	mu    sync.Mutex
	roots map[uri.URI]*root
	told  map[uri.URI]told
}

// root is a file that was judged: a scene with what it reads, or a
// configuration. It keeps no text of a file on disk.
type root struct {
	found found
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

// rootOf begins the root for a reading of a text.
func rootOf(r *workspace.Read, f found) *root {
	return &root{found: f, id: r.Doc.ID, version: r.Doc.Version, open: r.Doc.Open, opening: r.Doc.Opening, path: r.Doc.Path,
		config: r.Doc.Config, reads: r.OtherFiles()}
}

// told is what the client knows of a file.
type told struct {
	hash    uint64
	version int32
	known   bool // a version was told
	// opening is that of the text: an editor may forget the notes on a text
	// when it is closed, and open it again with the same version.
	opening uint64
}

func newBoard(s *Server) *board {
	return &board{server: s, roots: map[uri.URI]*root{}, told: map[uri.URI]told{}}
}

// put notes what was found in a root and tells the client of all files that
// this changes, unless a newer version has been seen in the meantime. It
// reports whether it did.
func (b *board) put(u uri.URI, r *root) bool {
	b.mu.Lock()
	defer b.mu.Unlock()
	old := b.roots[u]
	if !b.newest(u, r, old) {
		return false
	}
	b.roots[u] = r
	files := map[uri.URI]bool{}
	for f := range r.found {
		files[f] = true
	}
	if old != nil {
		for f := range old.found {
			files[f] = true
		}
	}
	b.tell(files)
	return true
}

// newest reports whether r may follow old.
func (b *board) newest(u uri.URI, r, old *root) bool {
	if r.id == 0 {
		return true
	}
	open := b.server.session.Snapshot().Doc(u)
	if open != nil || r.open {
		return open != nil && open.ID == r.id
	}
	return old == nil || old.open || old.id <= r.id
}

// drop forgets a root that is of no interest any more.
func (b *board) drop(u uri.URI) {
	b.mu.Lock()
	defer b.mu.Unlock()
	old := b.roots[u]
	if old == nil || b.server.session.Snapshot().Doc(u) != nil {
		return
	}
	delete(b.roots, u)
	files := map[uri.URI]bool{}
	for f := range old.found {
		files[f] = true
	}
	b.tell(files)
}

// dropOutside forgets the roots on disk that are in no folder of the workspace.
func (b *board) dropOutside() {
	b.mu.Lock()
	var outside []uri.URI
	for u, r := range b.roots {
		if _, inside := b.server.session.Root(r.path); r.id != 0 && !r.open && !inside {
			outside = append(outside, u)
		}
	}
	b.mu.Unlock()
	for _, u := range outside {
		b.drop(u)
	}
}

// tell publishes the notes of files where they changed; b.mu is held.
func (b *board) tell(files map[uri.URI]bool) {
	if b.server.can.pull {
		return
	}
	order := make([]uri.URI, 0, len(files))
	for f := range files {
		order = append(order, f)
	}
	slices.Sort(order)
	for _, f := range order {
		list := b.union(f)
		now := told{hash: hashOf(list)}
		p := &protocol.PublishDiagnosticsParams{URI: f, Diagnostics: list}
		if r := b.roots[f]; r != nil && r.open {
			now.version, now.known, now.opening = r.version, true, r.opening
			p.Version = protocol.NewOptional(r.version)
		}
		before, ever := b.told[f]
		if before == now || !ever && len(list) == 0 && !now.known {
			continue
		}
		b.told[f] = now
		if len(list) == 0 && !now.known {
			delete(b.told, f)
		}
		if err := b.server.client.PublishDiagnostics(context.Background(), p); err != nil {
			b.server.log("notes on %s could not be sent: %v", f, err)
		}
	}
}

// union returns the notes in a file of all roots, each once; b.mu is held.
func (b *board) union(f uri.URI) []protocol.Diagnostic {
	var list []protocol.Diagnostic
	for _, r := range b.roots {
		list = append(list, r.found[f]...)
	}
	sortDiagnostics(list)
	return slices.CompactFunc(list, func(x, y protocol.Diagnostic) bool {
		return x.Range == y.Range && codeOf(&x) == codeOf(&y) && messageOf(&x) == messageOf(&y)
	})
}

// notesOn returns the notes in a file of all roots.
func (b *board) notesOn(f uri.URI) []protocol.Diagnostic {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.union(f)
}

// knows reports whether a root has been judged.
func (b *board) knows(u uri.URI) bool {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.roots[u] != nil
}

// fresh reports whether a scene on disk has been judged as it is now.
func (b *board) fresh(u uri.URI) bool {
	b.mu.Lock()
	r := b.roots[u]
	b.mu.Unlock()
	if r == nil || r.open || r.stamps == nil || b.server.session.ConfigFor(r.path) != r.config {
		return false
	}
	for path, then := range r.stamps {
		if stampOf(path) != then {
			return false
		}
	}
	return true
}

// stampsOf returns the stamps of the files that a root on disk is made of, as
// read at the given time. A file that changed about then has no stamp that it
// could match later.
func stampsOf(r *root, read time.Time) map[string]stamp {
	stamps := map[string]stamp{}
	for _, path := range append([]string{r.path}, r.reads...) {
		stamps[path] = stampOf(path)
		if stamps[path].time.After(read.Add(-time.Second)) {
			stamps[path] = stamp{size: -1}
		}
	}
	return stamps
}

// shownFiles returns all files about which something is known.
func (b *board) shownFiles() map[uri.URI]bool {
	b.mu.Lock()
	defer b.mu.Unlock()
	files := map[uri.URI]bool{}
	for _, r := range b.roots {
		for f := range r.found {
			files[f] = true
		}
	}
	return files
}

// configs returns the paths of the configurations that govern the roots.
func (b *board) configs() []string {
	b.mu.Lock()
	defer b.mu.Unlock()
	var paths []string
	for _, r := range b.roots {
		if r.config != nil && r.config.File != nil && !slices.Contains(paths, r.config.File.Path) {
			paths = append(paths, r.config.File.Path)
		}
	}
	return paths
}

// faulty reports whether something was wrong with the text of a root when it
// was last looked at.
func (b *board) faulty(u uri.URI) bool {
	b.mu.Lock()
	defer b.mu.Unlock()
	r := b.roots[u]
	return r != nil && r.faulty
}

// lastGood returns the last study of an earlier version of a text that did not
// look half written, or nil.
func (b *board) lastGood(d *workspace.Doc) *workspace.Shot {
	b.mu.Lock()
	defer b.mu.Unlock()
	r := b.roots[d.URI]
	if r == nil || r.shot == nil || r.shot.Broken() || r.shot.Doc == d {
		return nil
	}
	return r.shot
}

// hashOf returns a number that differs for lists that a client would show in
// different ways.
func hashOf(list []protocol.Diagnostic) uint64 {
	h := fnv.New64a()
	for i := range list {
		if b, err := protocol.Marshal(&list[i]); err == nil {
			h.Write(b)
		}
	}
	return h.Sum64()
}
