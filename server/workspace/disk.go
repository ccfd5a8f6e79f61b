package workspace

import (
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"go.lsp.dev/uri"

	"curvelint/diagnostics/config"
	"curvelint/parse"
	"curvelint/parse/text"
)

// Load reads the text of a scene on disk. It is not among the open texts.
func (s *Session) Load(u uri.URI, path string) (*Doc, error) {
	content, err := readFile(path)
	if err != nil {
		return nil, err
	}
	s.mu.Lock()
	id := s.newID()
	s.mu.Unlock()
	return &Doc{ID: id, URI: u, Path: path, Index: text.NewIndex(content),
		Config: s.configs.forPath(path), Since: time.Now()}, nil
}

// readFile reads a regular file that is not too large.
func readFile(path string) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, fmt.Errorf("%s is no regular file", path)
	}
	if info.Size() > parse.DefaultMaxBytes {
		return nil, fmt.Errorf("%s is larger than the limit of %d bytes", path, parse.DefaultMaxBytes)
	}
	return io.ReadAll(io.LimitReader(f, parse.DefaultMaxBytes))
}

// ConfigAt returns the configuration in the file at path, nil if there is no
// such file.
func (s *Session) ConfigAt(path string) *Config {
	cfg := s.configs.forPath(filepath.Join(filepath.Dir(path), "any"))
	if cfg.File == nil || cfg.File.Path != path {
		return nil
	}
	return cfg
}

// Scenes calls visit for each scene file below a folder, in the order of their
// paths, until visit returns false. Hidden folders are passed over, and so is
// what cannot be read.
func Scenes(folder string, visit func(path string) bool) {
	known := parse.Extensions()
	_ = filepath.WalkDir(folder, func(path string, e fs.DirEntry, err error) error {
		switch {
		case err != nil:
			if e != nil && e.IsDir() {
				return fs.SkipDir
			}
			return nil
		case e.IsDir() && path != folder && strings.HasPrefix(e.Name(), "."):
			return fs.SkipDir
		case !e.Type().IsRegular() || !slices.Contains(known, strings.ToLower(filepath.Ext(path))):
			return nil
		case !visit(path):
			return fs.SkipAll
		}
		return nil
	})
}

// Governs reports whether the scenes that the curvelint.toml at path governs
// are all among the given ones.
func Governs(path string, among map[string]bool) bool {
	all := true
	Scenes(filepath.Dir(path), func(scene string) bool {
		all = among[scene] || config.Find(scene) != path
		return all
	})
	return all
}
