package config

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
)

// MaxBytes is the size beyond which a configuration is not read.
const MaxBytes = 4 << 20

// Load reads the configuration at path.
func Load(path string, schema Schema) (*Config, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() || info.Size() > MaxBytes {
		return nil, fmt.Errorf("%s: expected a configuration, a text file of at most %d bytes", path, MaxBytes)
	}
	src, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	// A byte-order mark is no TOML, but some editors write one.
	return Parse(path, bytes.TrimPrefix(src, []byte("\uFEFF")), schema), nil
}

// Find returns the path of the curvelint.toml that governs the file at path:
// the one in its folder or the nearest folder above; "" if there is none. The
// result is relative when path is and the file lies below the current folder.
func Find(path string) string {
	abs, err := filepath.Abs(path)
	if err != nil {
		return ""
	}
	for dir := filepath.Dir(abs); ; dir = filepath.Dir(dir) {
		candidate := filepath.Join(dir, FileName)
		if info, err := os.Stat(candidate); err == nil && info.Mode().IsRegular() {
			return shorten(candidate, path)
		}
		if dir == filepath.Dir(dir) {
			return ""
		}
	}
}

// shorten makes an absolute path relative if that one is.
func shorten(abs, like string) string {
	if filepath.IsAbs(like) {
		return abs
	}
	here, err := filepath.Abs(".")
	if err != nil {
		return abs
	}
	rel, err := filepath.Rel(here, abs)
	if err != nil || strings.HasPrefix(rel, "..") && !strings.HasPrefix(like, "..") {
		return abs
	}
	return rel
}

// Finder finds and loads configurations and remembers them. It is safe for
// concurrent use.
type Finder struct {
	Schema Schema
	// Fixed is the configuration to use for every file, "" to look for one.
	Fixed string

	mu     sync.Mutex
	loaded map[string]*loading
}

type loading struct {
	once   sync.Once
	config *Config
	err    error
}

// For returns the configuration that governs the file at path, never nil
// without an error: an empty one if there is none.
func (f *Finder) For(path string) (*Config, error) {
	name := f.Fixed
	if name == "" {
		name = Find(path)
	}
	f.mu.Lock()
	l := f.loaded[name]
	if l == nil {
		if f.loaded == nil {
			f.loaded = map[string]*loading{}
		}
		l = &loading{}
		f.loaded[name] = l
	}
	f.mu.Unlock()
	l.once.Do(func() {
		if name == "" {
			l.config = &Config{}
			return
		}
		l.config, l.err = Load(name, f.Schema)
		if errors.Is(l.err, fs.ErrNotExist) {
			l.err = fmt.Errorf("the configuration %s does not exist", name)
		}
	})
	return l.config, l.err
}

// Forget makes the finder read its files again.
func (f *Finder) Forget() {
	f.mu.Lock()
	defer f.mu.Unlock()
	f.loaded = nil
}
