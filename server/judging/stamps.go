package judging

import (
	"os"
	"slices"
	"time"

	"go.lsp.dev/uri"
)

// stamp tells versions of a file on disk apart.
type stamp struct {
	size int64
	time time.Time
}

// stampOf returns the stamp of a file, zero when there is none.
func stampOf(path string) stamp {
	info, err := os.Stat(path)
	if err != nil {
		return stamp{}
	}
	return stamp{info.Size(), info.ModTime()}
}

// stampsOf returns the stamps of the files that an entry on disk is made of, as
// read at the given time. A file that changed about then has no stamp that it
// could match later.
func stampsOf(e *entry, read time.Time) map[string]stamp {
	stamps := map[string]stamp{}
	for _, path := range append([]string{e.path}, e.reads...) {
		stamps[path] = stampOf(path)
		if stamps[path].time.After(read.Add(-time.Second)) {
			stamps[path] = stamp{size: -1}
		}
	}
	return stamps
}

// fresh reports whether a scene on disk has been judged as it is now.
func (l *ledger) fresh(u uri.URI) bool {
	l.mu.Lock()
	e := l.entries[u]
	l.mu.Unlock()
	if e == nil || e.open || e.stamps == nil || l.session.ConfigFor(e.path) != e.config {
		return false
	}
	for path, then := range e.stamps {
		if stampOf(path) != then {
			return false
		}
	}
	return true
}

// stale returns the scenes on disk that read one of the changed files or are
// governed otherwise than when they were judged, with their paths.
func (l *ledger) stale(changed []string) map[uri.URI]string {
	l.mu.Lock()
	defer l.mu.Unlock()
	paths := map[uri.URI]string{}
	for u, e := range l.entries {
		if e.id == 0 || e.open {
			continue
		}
		reads := slices.ContainsFunc(e.reads, func(p string) bool { return slices.Contains(changed, p) })
		if reads || l.session.ConfigFor(e.path) != e.config {
			paths[u] = e.path
		}
	}
	return paths
}

// onDisk returns the paths on disk that the entries hang on.
func (l *ledger) onDisk() []string {
	l.mu.Lock()
	defer l.mu.Unlock()
	var paths []string
	for _, e := range l.entries {
		if e.id == 0 {
			continue
		}
		paths = append(paths, e.reads...)
		if e.config != nil && e.config.File != nil {
			paths = append(paths, e.config.File.Path)
		}
		if !e.open {
			paths = append(paths, e.path)
		}
	}
	return paths
}
