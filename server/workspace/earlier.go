package workspace

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"sync"
	"time"

	"go.lsp.dev/uri"

	"curvelint/diagnostics/passes"
)

// comparison is a study held against one version of its earlier pass.
type comparison struct {
	before *Doc
	result future[*passes.Comparison]
}

// earlierPasses are the earlier passes of open scenes, read from disk, by the
// URI of the later pass.
type earlierPasses struct {
	mu   sync.Mutex
	read map[uri.URI]*earlierPass
}

// earlierPass is an earlier pass as it was read: from a file that was written at
// some time, or from an open text that another configuration governs.
type earlierPass struct {
	doc  *Doc
	from *Doc // the open text, nil for a file
	size int64
	time time.Time
}

// ErrNoEarlier is given for a scene of which no earlier pass is known.
var ErrNoEarlier = errors.New("no [[pass]] of curvelint.toml names an earlier pass of this file")

// EarlierPath returns where the earlier pass of a text lies, by the [[pass]]
// entries of what governs it; ok is false when none fits its name, or when it is
// neither in the workspace nor below the folder of the curvelint.toml.
func (s *Session) EarlierPath(d *Doc) (path string, ok bool) {
	if d.Config == nil {
		return "", false
	}
	path, ok = d.Config.Before(d.Path)
	if !ok {
		return "", false
	}
	if _, inside := s.FolderOf(path); inside {
		return path, true
	}
	home := filepath.Dir(d.Path)
	if f := d.Config.File; f != nil {
		home = filepath.Dir(f.Path)
	}
	rel, err := filepath.Rel(home, path)
	return path, err == nil && filepath.IsLocal(rel)
}

// earlier returns the earlier pass of a text as it stands now: as open in the
// editor, else as on disk.
func (s *Session) earlier(d *Doc) (*Doc, error) {
	path, ok := s.EarlierPath(d)
	if !ok {
		return nil, ErrNoEarlier
	}
	cfg := s.ConfigFor(path)
	if cfg.File == nil {
		cfg = d.Config // it has no curvelint.toml of its own
	}
	s.passes.mu.Lock()
	defer s.passes.mu.Unlock()
	known := s.passes.read[d.URI]
	if open := s.Snapshot().ByPath(path); open != nil {
		if open.Config == cfg {
			delete(s.passes.read, d.URI)
			return open, nil
		}
		if known == nil || known.from != open || known.doc.Config != cfg {
			known = &earlierPass{doc: open.again(open.ID, cfg), from: open}
			s.passes.keep(d.URI, known)
		}
		return known.doc, nil
	}
	info, err := os.Stat(path)
	if err != nil {
		return nil, fmt.Errorf("the earlier pass: %w", err)
	}
	if known != nil && known.from == nil && known.doc.Path == path && known.doc.Config == cfg &&
		known.size == info.Size() && known.time.Equal(info.ModTime()) {
		return known.doc, nil
	}
	read, err := s.Load(uri.File(path), path)
	if err != nil {
		return nil, fmt.Errorf("the earlier pass: %w", err)
	}
	read.Config = cfg
	s.passes.keep(d.URI, &earlierPass{doc: read, size: info.Size(), time: info.ModTime()})
	return read, nil
}

// keep notes the earlier pass of a text; p.mu is held.
func (p *earlierPasses) keep(u uri.URI, known *earlierPass) {
	if p.read == nil {
		p.read = map[uri.URI]*earlierPass{}
	}
	p.read[u] = known
}

// forget lets go of the earlier pass of a text that was closed.
func (p *earlierPasses) forget(u uri.URI) {
	p.mu.Lock()
	defer p.mu.Unlock()
	delete(p.read, u)
}

// comparisonOf returns the comparison of a study with its earlier pass as that
// stands now.
func (s *Session) comparisonOf(shot *Shot) (*comparison, error) {
	before, err := s.earlier(shot.Doc)
	if err != nil {
		return nil, err
	}
	shot.comparing.Lock()
	defer shot.comparing.Unlock()
	if shot.compared == nil || shot.compared.before != before {
		shot.compared = &comparison{before: before}
	}
	return shot.compared, nil
}

// Compare holds a study against its earlier pass, once for each version of that.
// The error is ErrNoEarlier when there is none, another one when it cannot be
// read.
func (s *Session) Compare(ctx context.Context, shot *Shot) (*passes.Comparison, error) {
	c, err := s.comparisonOf(shot)
	if err != nil {
		return nil, err
	}
	return c.result.get(ctx, s.lifetime, "the comparison of "+shot.Doc.Path, func(ctx context.Context) (*passes.Comparison, error) {
		before, err := s.Shot(ctx, c.before)
		if err != nil {
			return nil, err
		}
		if before.Broken() && len(before.Scene.Channels) == 0 {
			return nil, fmt.Errorf("the earlier pass %s has no motion that could be read", c.before.Path)
		}
		if err := s.enter(ctx); err != nil {
			return nil, err
		}
		defer s.leave()
		return passes.Compare(ctx, before.Study, shot.Study, before.Notes, shot.Notes, passes.Options{})
	})
}

// EarlierShot returns the study of the earlier pass of a scene, or nil.
func (s *Session) EarlierShot(ctx context.Context, shot *Shot) *Shot {
	before, err := s.earlier(shot.Doc)
	if err != nil {
		return nil
	}
	studied, err := s.Shot(ctx, before)
	if err != nil {
		return nil
	}
	return studied
}

// Compared returns the comparison of a study with its earlier pass if it has
// been made already; known is false when it is still to be made.
func (s *Session) Compared(shot *Shot) (c *passes.Comparison, known bool) {
	found, err := s.comparisonOf(shot)
	if err != nil {
		return nil, true
	}
	return found.result.peek()
}
