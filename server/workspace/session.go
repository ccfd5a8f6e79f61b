package workspace

import (
	"context"
	"path/filepath"
	"runtime"
	"sort"
	"strings"
	"sync"
	"sync/atomic"
	"time"

	"go.lsp.dev/uri"

	"curvelint/diagnostics"
	"curvelint/parse/text"
)

// Session is one editing session. Texts are changed by one goroutine at a
// time, in the order of the client's messages; everything else may be called
// from any.
type Session struct {
	lifetime context.Context
	end      context.CancelFunc
	slots    chan struct{} // bounds how many studies run at once
	configs  configs
	passes   earlierPasses

	current atomic.Pointer[Snapshot]

	mu      sync.Mutex // held while current changes
	lastID  uint64
	folders []string
}

// New returns a session without texts. It works until Close.
func New() *Session {
	s := &Session{slots: make(chan struct{}, runtime.GOMAXPROCS(0))}
	s.lifetime, s.end = context.WithCancel(context.Background())
	s.current.Store(&Snapshot{})
	s.configs.schema = diagnostics.Schema()
	s.configs.loaded = map[string]*Config{}
	s.configs.open = func(path string) ([]byte, bool) {
		if d := s.Snapshot().ByPath(path); d != nil {
			return d.Text(), true
		}
		return nil, false
	}
	return s
}

// Close ends all work in the background.
func (s *Session) Close() { s.end() }

// Lifetime returns a context that ends with the session.
func (s *Session) Lifetime() context.Context { return s.lifetime }

// Snapshot returns the open texts as they stand now.
func (s *Session) Snapshot() *Snapshot { return s.current.Load() }

// Current reports whether d is the newest version of an open text.
func (s *Session) Current(d *Doc) bool { return s.Snapshot().Doc(d.URI) == d }

// SetFolders sets the folders of the workspace. Files inside them may name one
// another. It returns the new versions of the open scenes that may read other
// files than before.
func (s *Session) SetFolders(paths []string) []*Doc {
	var folders []string
	for _, p := range paths {
		folders = append(folders, filepath.Clean(p))
	}
	sort.Strings(folders)
	s.mu.Lock()
	old := s.folders
	s.folders = folders
	s.mu.Unlock()
	return s.renew(func(d *Doc) bool {
		was, _ := folderIn(old, d.Path)
		now, _ := folderIn(folders, d.Path)
		return was != now
	})
}

// Folders returns the folders of the workspace, in order.
func (s *Session) Folders() []string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return append([]string(nil), s.folders...)
}

// FolderOf returns the innermost folder of the workspace that holds the file at
// path; inside is false when there is none, and the folder is then its own.
func (s *Session) FolderOf(path string) (folder string, inside bool) {
	s.mu.Lock()
	folders := s.folders
	s.mu.Unlock()
	return folderIn(folders, path)
}

// folderIn is FolderOf for given folders.
func folderIn(folders []string, path string) (folder string, inside bool) {
	for _, f := range folders {
		if rel, err := filepath.Rel(f, path); err == nil && filepath.IsLocal(rel) && len(f) > len(folder) {
			folder, inside = f, true
		}
	}
	if !inside {
		folder = filepath.Dir(path)
	}
	return folder, inside
}

// PathOf returns the path of a URI in the file system, or the URI itself.
func PathOf(u uri.URI) string {
	if !u.IsFile() {
		return string(u)
	}
	return filepath.Clean(u.FsPath())
}

// URIOf returns the URI for a path: that of the open text if there is one,
// since clients spell them in their own ways.
func (s *Session) URIOf(path string) uri.URI {
	if d := s.Snapshot().ByPath(path); d != nil {
		return d.URI
	}
	if strings.Contains(path, "://") {
		return uri.URI(path)
	}
	return uri.File(path)
}

// newID returns the next id; s.mu is held.
func (s *Session) newID() uint64 {
	s.lastID++
	return s.lastID
}

// put makes d the newest version of its text; s.mu is held.
func (s *Session) put(d *Doc) { s.current.Store(s.Snapshot().with(d.URI, d)) }

// configFor returns what governs the file at path, nil for a configuration.
func (s *Session) configFor(d *Doc) *Config {
	if d.IsConfig() {
		return nil
	}
	return s.configs.forPath(d.Path)
}

// ConfigFor returns what governs the file at path.
func (s *Session) ConfigFor(path string) *Config { return s.configs.forPath(path) }

// Open takes in a text that the client has opened. It keeps the text, but not
// the URI.
func (s *Session) Open(u uri.URI, version int32, content []byte) *Doc {
	u = uri.URI(strings.Clone(string(u)))
	s.mu.Lock()
	defer s.mu.Unlock()
	d := &Doc{ID: s.newID(), URI: u, Path: PathOf(u), Version: version, Open: true,
		Index: text.NewIndex(content), Since: time.Now()}
	d.Opening = d.ID
	d.Config = s.configFor(d)
	s.put(d)
	return d
}

// Change applies changes to an open text, their positions counted in enc; nil
// when the text is not open.
func (s *Session) Change(u uri.URI, version int32, enc text.Encoding, changes []Change) *Doc {
	s.mu.Lock()
	defer s.mu.Unlock()
	old := s.Snapshot().Doc(u)
	if old == nil {
		return nil
	}
	d := old.next(s.newID(), version, Apply(old.Index, enc, changes), old.Config)
	if len(changes) == 1 && !changes[0].Whole {
		from, to := changes[0].offsets(old.Index, enc)
		d.change = replaced{old.ID, from, to}
	}
	s.put(d)
	return d
}

// CloseDoc forgets an open text and returns its last version, or nil.
func (s *Session) CloseDoc(u uri.URI) *Doc {
	s.mu.Lock()
	defer s.mu.Unlock()
	old := s.Snapshot().Doc(u)
	if old != nil {
		s.current.Store(s.Snapshot().with(u, nil))
		s.passes.forget(u)
	}
	return old
}
