package workspace

import (
	"maps"
	"slices"

	"go.lsp.dev/uri"
)

// Snapshot is the state of all open texts at one moment. It never changes;
// IDs rise.
type Snapshot struct {
	ID   uint64
	docs map[uri.URI]*Doc
}

// Doc returns the open text with the given URI, or nil.
func (s *Snapshot) Doc(u uri.URI) *Doc { return s.docs[u] }

// Docs returns all open texts, ordered by URI.
func (s *Snapshot) Docs() []*Doc {
	docs := slices.Collect(maps.Values(s.docs))
	slices.SortFunc(docs, func(a, b *Doc) int {
		if a.URI < b.URI {
			return -1
		}
		return 1
	})
	return docs
}

// ByPath returns the open text of the file at path, or nil.
func (s *Snapshot) ByPath(path string) *Doc {
	for _, d := range s.docs {
		if d.Path == path {
			return d
		}
	}
	return nil
}

// with returns the snapshot with a text added, replaced, or, when d is nil,
// removed.
func (s *Snapshot) with(u uri.URI, d *Doc) *Snapshot {
	n := &Snapshot{ID: s.ID + 1, docs: make(map[uri.URI]*Doc, len(s.docs)+1)}
	maps.Copy(n.docs, s.docs)
	if d == nil {
		delete(n.docs, u)
	} else {
		n.docs[u] = d
	}
	return n
}
