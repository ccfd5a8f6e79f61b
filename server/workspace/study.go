package workspace

import (
	"context"
	"fmt"
	"slices"
	"sync"
	"time"

	"curvelint/diagnostics"
	"curvelint/diagnostics/note"
	"curvelint/parse"
	"curvelint/parse/scene"
)

// Read is a scene as read from a text.
type Read struct {
	Doc *Doc
	// Scene has its frames numbered as configured, raw as in the file.
	Scene  *scene.Scene
	raw    *scene.Scene
	Lookup *Lookup // of Scene

	mu      sync.Mutex // guards from
	from    start
	elapsed time.Duration
}

// start is what the study of a reading starts from: the last study of an
// earlier version, or of this one once that is done, with the channels whose
// keys have changed since and the parts of which a static value has; the zero
// value when all must be studied.
type start struct {
	shot    *Shot
	changed []scene.ChannelID
	parts   []scene.PartID
}

// origin returns what the study of the reading starts from.
func (r *Read) origin() start {
	r.mu.Lock()
	defer r.mu.Unlock()
	return r.from
}

// settle lets the next version start from the study of this one and lets go of
// the earlier version, which would hold the one before it, and so on.
func (r *Read) settle(shot *Shot) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.from = start{shot: shot}
}

// Broken reports whether the text looks as if it were half written: it breaks
// the rules of its format or ends early.
func (r *Read) Broken() bool {
	return slices.ContainsFunc(r.Scene.Problems, func(p scene.Problem) bool {
		return p.Kind == scene.Syntax || p.Kind == scene.PartialExport
	})
}

// Shot is a scene with its study and the notes on it.
type Shot struct {
	*Read
	*diagnostics.Result
	// Elapsed is how long reading and studying took.
	Elapsed time.Duration

	comparing sync.Mutex
	compared  *comparison // with the earlier pass, when asked for
}

// Read returns the scene of a text. It is read once, from the earlier version
// where only keys changed since.
func (s *Session) Read(ctx context.Context, d *Doc) (*Read, error) {
	if d.IsConfig() {
		return nil, fmt.Errorf("%s is a configuration, not a scene", d.Path)
	}
	return d.read.get(ctx, s.lifetime, func(ctx context.Context) (*Read, error) {
		if err := s.enter(ctx); err != nil {
			return nil, err
		}
		defer s.leave()
		began := time.Now()
		r := s.readText(d)
		r.elapsed = time.Since(began)
		d.settle()
		return r, nil
	})
}

// Shot returns the study of a text and the notes on it, made once.
func (s *Session) Shot(ctx context.Context, d *Doc) (*Shot, error) {
	return d.shot.get(ctx, s.lifetime, func(ctx context.Context) (*Shot, error) {
		r, err := s.Read(ctx, d)
		if err != nil {
			return nil, err
		}
		if err := s.enter(ctx); err != nil {
			return nil, err
		}
		defer s.leave()
		return s.study(ctx, r)
	})
}

// enter waits until few enough studies run; leave lets the next one in.
func (s *Session) enter(ctx context.Context) error {
	select {
	case s.slots <- struct{}{}:
		return nil
	case <-ctx.Done():
		return ctx.Err()
	}
}

func (s *Session) leave() { <-s.slots }

// readText reads a text: what an edit touched if that is possible, else all.
func (s *Session) readText(d *Doc) *Read {
	if r := s.reread(d); r != nil {
		return r
	}
	raw := parse.Parse(d.Path, d.Text(), diagnostics.ReadOptions(d.Config.Config, s.opener(d)))
	return newRead(d, raw)
}

// newRead returns the reading of a text whose scene is raw.
func newRead(d *Doc, raw *scene.Scene) *Read {
	sc := diagnostics.Number(raw, d.Config.Config)
	return &Read{Doc: d, raw: raw, Scene: sc, Lookup: NewLookup(sc, d.Index)}
}

// reread reads only what differs from the earlier version; nil if it cannot.
func (s *Session) reread(d *Doc) *Read {
	base := d.previous()
	if base == nil {
		return nil
	}
	old, ok := base.read.peek()
	if !ok || base.Config != d.Config {
		return nil
	}
	re, ok := parse.Reread(old.raw, d.since(old.Doc))
	if !ok {
		return nil
	}
	r := newRead(d, re.Scene)
	if shot, ok := base.shot.peek(); ok {
		r.from = start{shot, re.Changed, re.Parts}
	} else if from := old.origin(); from.shot != nil {
		r.from = start{from.shot, union(from.changed, re.Changed), union(from.parts, re.Parts)}
	}
	return r
}

func union[ID scene.ChannelID | scene.PartID](a, b []ID) []ID {
	all := append(slices.Clone(a), b...)
	slices.Sort(all)
	return slices.Compact(all)
}

// study studies a scene and judges it.
func (s *Session) study(ctx context.Context, r *Read) (*Shot, error) {
	began := time.Now()
	judge := diagnostics.Judge{Config: r.Doc.Config.Config}
	var res *diagnostics.Result
	if from := r.origin(); from.shot != nil && from.shot.Study.Scene.Rate == r.Scene.Rate {
		res = judge.Edit(ctx, from.shot.Study, r.Scene, from.changed, from.parts...)
	} else {
		res = judge.Scene(ctx, r.Scene)
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	elapsed := r.elapsed + time.Since(began)
	read := &Read{Doc: r.Doc, Scene: r.Scene, raw: r.raw, Lookup: r.Lookup}
	shot := &Shot{Read: read, Result: res, Elapsed: elapsed}
	r.settle(shot)
	return shot, nil
}

// opener returns how a scene reads the files it names: inside its folder of
// the workspace, and as they stand in the editor where they are open there.
func (s *Session) opener(d *Doc) diagnostics.ReadFunc {
	root, _ := s.Root(d.Path)
	within := parse.OpenWithin(root)
	return func(from, name string) (string, []byte, error) {
		d.asked.Store(true) // before it looks: a change after this is seen or known of
		at, content, err := within(from, name)
		if err != nil {
			return at, content, err
		}
		if d := s.Snapshot().ByPath(at); d != nil {
			return at, d.Text(), nil
		}
		return at, content, nil
	}
}

// Problems returns the notes on what is wrong with the text itself, which are
// known before the study is.
func (r *Read) Problems() []note.Note {
	return diagnostics.ProblemNotes(r.Scene, r.Doc.Config.Config)
}

// FilePath returns the path of one of the scene's files.
func (r *Read) FilePath(f scene.FileID) string {
	if f == 0 {
		return r.Doc.Path
	}
	return absolute(r.Doc.Path, r.Scene.Files[f].Path)
}

// OtherFiles returns the paths of the files that the scene is made of, or
// should be, besides the one that was opened.
func (r *Read) OtherFiles() []string {
	var paths []string
	for i := 1; i < len(r.Scene.Files); i++ {
		paths = append(paths, r.FilePath(scene.FileID(i)))
	}
	return paths
}
