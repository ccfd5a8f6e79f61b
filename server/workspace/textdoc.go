package workspace

import (
	"bytes"
	"path/filepath"
	"sync"
	"sync/atomic"
	"time"

	"go.lsp.dev/uri"

	"curvelint/diagnostics/config"
	"curvelint/parse/scene"
	"curvelint/parse/text"
)

// Doc is one version of one text. It never changes; an edit makes a new one.
type Doc struct {
	// ID rises with every version of any text of the session.
	ID  uint64
	URI uri.URI
	// Path is where the text lies, or would, in the file system; the URI
	// itself for a text that lies elsewhere.
	Path string
	// Version is the client's number; Open is false for a text read from disk.
	Version int32
	Open    bool
	Index   *text.Index
	Since   time.Time // when this version came
	// Opening is the ID of the version with which the client opened the text.
	Opening uint64
	// Quiet is how long the version before this one had stood; 0 for the first.
	Quiet time.Duration
	// Config governs the text. It is nil for a configuration itself.
	Config *Config

	// asked is true once reading the text has asked for another file.
	asked atomic.Bool

	read future[*Read]
	shot future[*Shot]

	mu   sync.Mutex
	base *Doc // an earlier version that has been read, until this one is

	// change is the range of the version with the ID after that this one
	// replaces, where one range is known.
	change replaced
}

// replaced is a range of bytes of an earlier version that was replaced.
type replaced struct {
	after    uint64 // 0 when nothing is known
	from, to int
}

// since returns the edit that turns an earlier version into d.
func (d *Doc) since(base *Doc) scene.Edit {
	if c := d.change; c.after == base.ID && c.after != 0 {
		return narrowed(base.Text(), d.Text(), c.from, c.to)
	}
	return difference(base.Text(), d.Text())
}

// IsConfig reports whether the text is a configuration rather than a scene.
func (d *Doc) IsConfig() bool { return filepath.Base(d.Path) == config.FileName }

// Text returns the bytes of the text.
func (d *Doc) Text() []byte { return d.Index.Text() }

// previous returns the version to start from, or nil.
func (d *Doc) previous() *Doc {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.base
}

// settle lets go of the earlier version.
func (d *Doc) settle() {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.base = nil
}

// next returns the version of the text that follows d with another text or
// another configuration.
func (d *Doc) next(id uint64, version int32, index *text.Index, cfg *Config) *Doc {
	n := &Doc{ID: id, URI: d.URI, Path: d.Path, Version: version, Open: d.Open, Opening: d.Opening,
		Index: index, Config: cfg, Since: time.Now(), Quiet: time.Since(d.Since)}
	if cfg != d.Config {
		return n
	}
	n.base = d.previous()
	if _, ok := d.read.peek(); ok {
		n.base = d
	}
	return n
}

// difference returns the one edit that turns a into b, as short as it can be.
// It holds whole characters.
func difference(a, b []byte) scene.Edit {
	return narrowed(a, b, 0, len(a))
}

// narrowed is difference for texts that are the same but for the bytes [from,
// to) of a and what stands for them in b.
func narrowed(a, b []byte, from, to int) scene.Edit {
	behind := len(a) - to
	start := from + commonPrefix(a[from:to], b[from:len(b)-behind])
	end := behind + commonSuffix(a[start:to], b[start:len(b)-behind])
	for start > 0 && (insideCharacter(a, start) || insideCharacter(b, start)) {
		start--
	}
	for end > 0 && (insideCharacter(a, len(a)-end) || insideCharacter(b, len(b)-end)) {
		end--
	}
	return scene.Edit{Start: start, End: len(a) - end, New: b[start : len(b)-end], Text: b}
}

// insideCharacter reports whether offset i is inside a character in UTF-8 or
// between CR and LF.
func insideCharacter(b []byte, i int) bool {
	if i >= len(b) {
		return false
	}
	return b[i]&0xC0 == 0x80 || b[i] == '\n' && i > 0 && b[i-1] == '\r'
}

// compareBlock is how many bytes are compared at once.
const compareBlock = 4096

func commonPrefix(a, b []byte) int {
	n := min(len(a), len(b))
	i := 0
	for i+compareBlock <= n && bytes.Equal(a[i:i+compareBlock], b[i:i+compareBlock]) {
		i += compareBlock
	}
	for i < n && a[i] == b[i] {
		i++
	}
	return i
}

func commonSuffix(a, b []byte) int {
	n := min(len(a), len(b))
	i := 0
	for i+compareBlock <= n && bytes.Equal(a[len(a)-i-compareBlock:len(a)-i], b[len(b)-i-compareBlock:len(b)-i]) {
		i += compareBlock
	}
	for i < n && a[len(a)-1-i] == b[len(b)-1-i] {
		i++
	}
	return i
}
