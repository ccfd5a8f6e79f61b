package workspace

import (
	"bytes"
	"os"
	"sync"

	"curvelint/diagnostics/config"
)

// Config is what governs a text: a curvelint.toml with the client's settings
// over it. Two texts with the same pointer are governed alike. It never
// changes.
type Config struct {
	*config.Config
	// File is the curvelint.toml alone, nil when there is none; the
	// allowances of Config begin with those of the file.
	File *config.Config
}

// configs reads configurations and remembers them until told to forget.
type configs struct {
	schema config.Schema
	// open returns the text of a configuration that is open in the editor.
	open func(path string) ([]byte, bool)

	mu     sync.Mutex
	client *config.Config // the client's settings, or nil
	keys   map[string]any
	loaded map[string]*Config
}

// forPath returns the configuration that governs the file at path, never nil.
func (c *configs) forPath(path string) *Config {
	at := config.Find(path)
	c.mu.Lock()
	defer c.mu.Unlock()
	if known := c.loaded[at]; known != nil {
		return known
	}
	cfg := c.load(at)
	c.loaded[at] = cfg
	return cfg
}

// load reads the configuration at path, "" for none; c.mu is held.
func (c *configs) load(path string) *Config {
	file := c.parse(path)
	base := file
	if base == nil {
		base = &config.Config{}
	}
	return &Config{Config: over(base, c.client, c.keys), File: file}
}

// parse reads a curvelint.toml, as open in the editor or as on disk; nil when
// there is none or it cannot be read.
func (c *configs) parse(path string) *config.Config {
	if path == "" {
		return nil
	}
	if src, ok := c.open(path); ok {
		return config.Parse(path, src, c.schema)
	}
	if file, err := config.Load(path, c.schema); err == nil {
		return file
	}
	return nil
}

// forget makes the next look read again. A configuration whose bytes are the
// same stays the same, so that nothing is studied anew for a mere touch.
func (c *configs) forget() {
	c.mu.Lock()
	defer c.mu.Unlock()
	for path, cfg := range c.loaded {
		if path != "" && !c.same(path, cfg) {
			delete(c.loaded, path)
		}
	}
}

func (c *configs) same(path string, cfg *Config) bool {
	src, ok := c.open(path)
	if !ok {
		var err error
		if src, err = os.ReadFile(path); err != nil {
			return cfg.File == nil
		}
		src = bytes.TrimPrefix(src, []byte("\uFEFF"))
	}
	return cfg.File != nil && bytes.Equal(src, cfg.File.Text)
}

// setClient puts the client's settings over all configurations and returns
// what is wrong with them.
func (c *configs) setClient(settings map[string]any) []config.Problem {
	cfg, problems := parseSettings(settings, c.schema)
	c.mu.Lock()
	defer c.mu.Unlock()
	c.client, c.keys = cfg, settings
	clear(c.loaded)
	return problems
}
