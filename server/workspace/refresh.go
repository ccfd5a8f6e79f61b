package workspace

import (
	"path/filepath"
	"time"

	"curvelint/diagnostics/config"
)

// Refresh takes in that files changed on disk, or in the editor, and returns
// the new versions of the open scenes that may give other notes now: those
// that read one of the files, and those that another configuration governs.
func (s *Session) Refresh(paths []string) []*Doc {
	changed := map[string]bool{}
	for _, p := range paths {
		changed[p] = true
		if filepath.Base(p) == config.FileName {
			s.configs.forget()
		}
	}
	return s.renew(func(d *Doc) bool { return d.reads(changed) })
}

// SetClient puts the client's settings over every curvelint.toml. It returns
// the new versions of the open scenes, and what is wrong with the settings.
func (s *Session) SetClient(settings map[string]any) ([]*Doc, []config.Problem) {
	problems := s.configs.setClient(settings)
	return s.renew(func(*Doc) bool { return false }), problems
}

// renew makes a new version of each open scene that another configuration
// governs now or for which must is true.
func (s *Session) renew(must func(*Doc) bool) []*Doc {
	s.mu.Lock()
	defer s.mu.Unlock()
	var renewed []*Doc
	for _, d := range s.Snapshot().Docs() {
		if d.IsConfig() {
			continue
		}
		cfg := s.configFor(d)
		if cfg == d.Config && !must(d) {
			continue
		}
		n := d.again(s.newID(), cfg)
		s.put(n)
		renewed = append(renewed, n)
	}
	return renewed
}

// again returns the same text, to be read and studied anew.
func (d *Doc) again(id uint64, cfg *Config) *Doc {
	return &Doc{ID: id, URI: d.URI, Path: d.Path, Version: d.Version, Open: d.Open, Opening: d.Opening,
		Index: d.Index, Config: cfg, Since: time.Now()}
}

// reads reports whether the scene of the text was read, or should have been,
// from one of the files besides its own.
func (d *Doc) reads(changed map[string]bool) bool {
	r, ok := d.read.peek()
	if !ok {
		if d.asked.Load() {
			return true // it is just being read
		}
		b := d.previous()
		return b != nil && b.reads(changed)
	}
	for i, f := range r.Scene.Files {
		if i > 0 && changed[absolute(d.Path, f.Path)] {
			return true
		}
	}
	return false
}

// absolute returns where a file that a scene names lies.
func absolute(from, name string) string {
	if filepath.IsAbs(name) {
		return filepath.Clean(name)
	}
	return filepath.Join(filepath.Dir(from), name)
}
