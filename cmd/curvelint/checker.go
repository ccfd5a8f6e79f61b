package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"sync"

	"curvelint/diagnostics"
	"curvelint/diagnostics/config"
	"curvelint/diagnostics/page"
	"curvelint/diagnostics/passes"
	"curvelint/diagnostics/report"
	"curvelint/diagnostics/words"
	"curvelint/parse"
	"curvelint/parse/scene"
)

// checker does the work of check.
type checker struct {
	std     streams
	options *checkOptions
	finder  config.Finder
	missing map[string]bool // paths that were said, or need not be said, not to be there

	mu     sync.Mutex // guards what follows, and standard error
	failed bool       // something could not be read
}

func newChecker(std streams, o *checkOptions) *checker {
	return &checker{std: std, options: o, finder: config.Finder{Schema: diagnostics.Schema(), Fixed: o.config}}
}

// complain says on standard error what could not be done and remembers it for
// the exit status.
func (k *checker) complain(format string, args ...any) {
	k.mu.Lock()
	defer k.mu.Unlock()
	k.failed = true
	fmt.Fprintf(k.std.err, "curvelint: "+format+"\n", args...)
}

// outcome is what became of one input. It holds no bytes of the file.
type outcome struct {
	input  input
	file   *report.File   // nil when the input could not be read
	config *config.Config // what it was judged by; nil when that could not be read
	uses   *diagnostics.Uses
	before string   // the path of the earlier pass, "" if none
	since  string   // with --before, what became of the notes of that pass
	reads  []string // the paths of all files that it is made of
	err    string   // why it could not be read
	// unreadable is true for a file of which nothing could be made.
	unreadable bool
	page       page.Encoded // with --format html, what the page shows of it
}

// checkOne reads and judges one input.
func (k *checker) checkOne(ctx context.Context, in input) outcome {
	out := outcome{input: in, reads: []string{in.path}}
	found, err := k.finder.For(in.path)
	if err != nil {
		out.err = err.Error()
		return out
	}
	out.config = found
	out.before, _ = found.Before(in.path)
	raw, err := in.read(k.std.in)
	if err != nil {
		out.err = readError(in.path, err)
		return out
	}
	sc := k.parse(in.path, raw, found)
	if k.mayPutAway(in, sc) {
		sum := fingerprint(raw)
		raw = nil // so that it can be let go of
		if k.checkLean(ctx, &out, sc, sum) {
			return out
		}
		if raw, err = in.read(k.std.in); err != nil {
			out.err = readError(in.path, err)
			return out
		}
		sc = k.parse(in.path, raw, found)
	}
	r := k.judge(ctx, sc, found)
	shown := page.Shot{Study: r.Study}
	if k.options.before != "" {
		earlier, err := k.onlyNew(ctx, &out, r)
		if err != nil {
			out.err = err.Error()
			return out
		}
		shown.Before, shown.BeforeNotes = earlier.Study, earlier.Notes
	}
	shown.Notes = diagnostics.Worst(r.Notes, k.options.worst)
	out.file = report.OfResult(r, shown.Notes)
	if k.options.format == htmlFormat {
		if out.page, err = page.Encode(ctx, &shown); err != nil {
			out.err = err.Error()
			return out
		}
	}
	out.found(r)
	return out
}

// found notes of a result what the report on its notes does not tell.
func (o *outcome) found(r *diagnostics.Result) {
	sc := r.Study.Scene
	o.uses = r.Uses
	o.unreadable = unreadable(sc)
	for _, f := range sc.Files[min(1, len(sc.Files)):] {
		o.reads = append(o.reads, f.Path)
	}
}

// parse reads the bytes of one file as a configuration and the flags say.
func (k *checker) parse(path string, raw []byte, found *config.Config) *scene.Scene {
	return diagnostics.Read(path, raw, k.options.apply(found), parse.OpenWithin(sceneRoot(path, found)))
}

// judge studies and judges a scene by a configuration and the flags.
func (k *checker) judge(ctx context.Context, sc *scene.Scene, found *config.Config) *diagnostics.Result {
	return diagnostics.Judge{Config: k.options.apply(found), Selection: k.options.selection()}.Scene(ctx, sc)
}

// judgeEarlier reads and judges an earlier pass: by its own configuration, or by
// that of the later one where it has none.
func (k *checker) judgeEarlier(ctx context.Context, path string, later *config.Config) (*diagnostics.Result, error) {
	found, err := k.finder.For(path)
	if err != nil {
		return nil, err
	}
	if found.Path == "" {
		found = later
	}
	in, err := inputOf(path)
	if err != nil {
		return nil, errors.New(readError(path, err))
	}
	raw, err := in.read(k.std.in)
	if err != nil {
		return nil, errors.New(readError(path, err))
	}
	r := k.judge(ctx, k.parse(path, raw, found), found)
	if unreadable(r.Study.Scene) {
		return nil, fmt.Errorf("%s has no motion that could be read; see curvelint check %[1]s", path)
	}
	return r, nil
}

// onlyNew leaves of the notes of a result those that the earlier pass has not. It
// returns that pass.
func (k *checker) onlyNew(ctx context.Context, out *outcome, r *diagnostics.Result) (*diagnostics.Result, error) {
	earlier, err := k.judgeEarlier(ctx, k.options.before, out.config)
	if err != nil {
		return nil, err
	}
	notes, err := passes.NewNotes(ctx, earlier.Study, r.Study, earlier.Notes, r.Notes)
	if err != nil {
		return nil, err
	}
	r.Notes = notes.New
	out.reads = append(out.reads, k.options.before)
	out.since = fmt.Sprintf("since %s: %d new, %d remaining, %d fixed", k.options.before, len(notes.New), len(notes.Remaining), len(notes.Fixed))
	return earlier, nil
}

// unreadable reports whether nothing that moves could be made of a file, because
// of what is wrong with it.
func unreadable(sc *scene.Scene) bool {
	return len(sc.Channels) == 0 && slices.ContainsFunc(sc.Problems, func(p scene.Problem) bool {
		return p.Kind == scene.Syntax || p.Kind == scene.Internal || len(sc.Parts) == 0
	})
}

// sceneRoot is the folder that a scene may read files from: that of its
// configuration, else its own.
func sceneRoot(path string, c *config.Config) string {
	if c.Path == "" {
		return filepath.Dir(path)
	}
	dir, err := filepath.Abs(filepath.Dir(c.Path))
	if err != nil {
		return filepath.Dir(path)
	}
	abs, err := filepath.Abs(path)
	if err != nil {
		return filepath.Dir(path)
	}
	// A configuration named by --config may lie anywhere.
	if rel, err := filepath.Rel(dir, abs); err != nil || !filepath.IsLocal(rel) {
		return filepath.Dir(path)
	}
	return dir
}

// once checks the inputs, writes the report as they come, and then the summary.
// It returns what became of the inputs that were done when the context ended.
func (k *checker) once(ctx context.Context, inputs []input) ([]outcome, error) {
	var done []outcome
	bar := newProgress(k.std, len(inputs))
	defer bar.finish()
	err := k.write(func(show func(*outcome) error) ([]outcome, error) {
		for o := range k.all(ctx, inputs) {
			bar.pause()
			done = append(done, o)
			if !k.options.watch {
				done[len(done)-1].page = nil // written now, and never again
			}
			if err := show(&o); err != nil {
				return done, err
			}
			bar.step()
		}
		return done, nil
	})
	bar.finish()
	if err != nil {
		return done, err
	}
	k.noneOfTheFrames(done)
	k.summarize(done, done)
	if ctx.Err() != nil && len(done) < len(inputs) {
		k.complain("interrupted after %d of %d files", len(done), len(inputs))
	}
	return done, nil
}

// write writes one report. Each shows the outcomes that belong into it and
// returns all those whose configurations are reported on at its end.
func (k *checker) write(each func(show func(*outcome) error) ([]outcome, error)) error {
	out, err := k.openOutput()
	if err != nil {
		return err
	}
	w, err := k.newReport(out)
	if err != nil {
		return out.finish(err)
	}
	all, err := each(func(o *outcome) error {
		if o.err != "" {
			k.complain("%s", o.err)
			return nil
		}
		if p, ok := w.(*pageReport); ok {
			return p.pages.Add(o.page)
		}
		return w.File(o.file)
	})
	for _, f := range k.configFiles(all) {
		if err == nil {
			err = w.File(f)
		}
	}
	if err == nil {
		err = w.Close()
	}
	if err = out.finish(err); err != nil {
		return fmt.Errorf("the notes could not be written: %w", err)
	}
	return nil
}

// configFiles reports on the configurations that judged the inputs, those in
// which there is something to note.
func (k *checker) configFiles(done []outcome) []*report.File {
	var order []*config.Config
	uses := map[*config.Config][]*diagnostics.Uses{}
	for i := range done {
		c := done[i].config
		if c == nil || c.Path == "" {
			continue
		}
		if _, known := uses[c]; !known {
			order = append(order, c)
		}
		list := uses[c]
		if done[i].uses != nil {
			list = append(list, done[i].uses)
		}
		uses[c] = list
	}
	var files []*report.File
	for _, c := range order {
		notes := k.options.selection().Shown(diagnostics.ConfigNotes(c, uses[c]...))
		if len(notes) > 0 {
			files = append(files, report.OfConfig(c, notes))
		}
	}
	return files
}

// tally counts the notes of the outcomes shown, and of the configurations of
// all.
func (k *checker) tally(shown, all []outcome) *report.Summary {
	var s report.Summary
	for i := range shown {
		if shown[i].file != nil {
			s.Add(shown[i].file, shown[i].before)
		}
	}
	for _, f := range k.configFiles(all) {
		s.Add(f, "")
	}
	return &s
}

// noneOfTheFrames says which files have none of the frames that --frames has
// judged. When all of them are so, the call is wrong.
func (k *checker) noneOfTheFrames(done []outcome) {
	if k.options.judged == nil {
		return
	}
	without := 0
	for i := range done {
		f := done[i].file
		if f == nil || f.Frames == nil || meet(*k.options.judged, f.Frames[0], f.Frames[1]) {
			continue
		}
		without++
		fmt.Fprintf(k.std.err, "curvelint: %s\n", noneOf(*k.options.judged, f.Path, f.Frames[0], f.Frames[1]))
	}
	k.failed = k.failed || without > 0 && without == len(done)
}

// meet reports whether two ranges of frames share one.
func meet(f config.Frames, first, last float64) bool { return f.First <= last && first <= f.Last }

func noneOf(f config.Frames, path string, first, last float64) string {
	return fmt.Sprintf("%s has none of the frames %s; its frames are %s", report.Visible(path), words.Between(f.First, f.Last), words.Between(first, last))
}

func (k *checker) summarize(shown, all []outcome) {
	// Standard error may be closed; then there is nobody left to tell.
	_ = k.tally(shown, all).Write(k.std.err)
	for i := range shown {
		if shown[i].since != "" {
			fmt.Fprintln(k.std.err, report.Visible(shown[i].since))
		}
	}
}

// exitStatus is the status for what is done.
func (k *checker) exitStatus(done []outcome) int {
	if k.failed {
		return statusFailed
	}
	for i := range done {
		if done[i].unreadable || done[i].config != nil && len(done[i].config.Problems) > 0 {
			return statusFailed
		}
	}
	if k.tally(done, done).Reaches(k.options.bar) {
		return statusNotes
	}
	return statusClean
}
