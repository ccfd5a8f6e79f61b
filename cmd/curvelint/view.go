package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"slices"

	"github.com/fsnotify/fsnotify"
	"github.com/spf13/cobra"

	"curvelint/diagnostics"
	"curvelint/diagnostics/config"
	"curvelint/diagnostics/note"
	"curvelint/diagnostics/page"
	"curvelint/diagnostics/report"
	"curvelint/parse/scene"
)

// viewOptions are the flags of view.
type viewOptions struct {
	output, config string
	port           int
	open           bool
}

const viewLong = `View shows a shot in a browser: its figures playing as stick drawings, through the
shot's camera or turned by hand, the paths of their points, and the notes. With
BEFORE, or an earlier pass named in curvelint.toml, that pass is drawn behind, and
what changed since is listed.

The page is served on this machine alone; its address is printed. When the file,
the earlier pass, a layer or curvelint.toml changes on disk the page follows,
without losing the frame or the view. An interrupt ends it. With --output the page
is written to a file instead, which needs nothing else.`

const viewExample = `  curvelint view shot.usda
  curvelint view --open shot_v4.usda shot_v3.usda
  curvelint view --output shot.html shot.bvh`

func newView(std streams) *cobra.Command {
	var o viewOptions
	c := &cobra.Command{
		Use:     "view [flags] FILE [BEFORE]",
		Short:   "Show a shot and its notes in a browser",
		Long:    viewLong,
		Example: viewExample,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 1 && len(args) != 2 {
				return errors.New("view needs the path of a scene file, and may have that of an earlier pass; see curvelint view --help")
			}
			return nil
		},
		RunE: func(c *cobra.Command, args []string) error { return runView(c.Context(), std, &o, args) },
	}
	f := c.Flags()
	f.SortFlags = false
	f.StringVarP(&o.output, "output", "o", "", "write the page to `FILE` instead of serving it")
	f.IntVar(&o.port, "port", 0, "serve at this port `N` (default: any that is free)")
	f.BoolVar(&o.open, "open", false, "open the page in the usual browser")
	f.StringVar(&o.config, "config", "", "use this `FILE` instead of looking for curvelint.toml")
	return c
}

func runView(ctx context.Context, std streams, o *viewOptions, args []string) error {
	if o.port < 0 || o.port > 65535 {
		return fmt.Errorf("--port: expected a number from 1 to 65535, found %d", o.port)
	}
	v := &viewer{std: std, options: o, path: args[0], finder: config.Finder{Schema: diagnostics.Schema(), Fixed: o.config}}
	if len(args) > 1 {
		v.before = args[1]
	}
	if o.output == "" {
		return v.serve(ctx)
	}
	shown, err := v.load(ctx)
	if err != nil {
		return err
	}
	return v.write(shown)
}

// viewer shows one file, and shows it again when it changes.
type viewer struct {
	std     streams
	options *viewOptions
	path    string
	before  string // the earlier pass, as called; "" for the configured one
	finder  config.Finder
	live    page.Live

	// read is what the page was made of, as check --watch keeps it.
	read outcome
	// flawed is true when the file that is shown was itself incomplete.
	flawed bool
}

func (v *viewer) title() string { return filepath.Base(v.path) }

// write writes the page to the file of --output.
func (v *viewer) write(shown page.Encoded) error {
	out, err := openOutput(v.std.out, v.options.output)
	if err != nil {
		return err
	}
	w := page.NewWriter(out, v.title())
	if err = w.Add(shown); err == nil {
		err = w.Close()
	}
	return out.finish(err)
}

// load reads the file and the earlier pass. What they are made of is remembered
// even when they cannot be shown, so that they are looked at again.
func (v *viewer) load(ctx context.Context) (page.Encoded, error) {
	now, err := loadShot(ctx, &v.finder, v.path)
	if err != nil {
		return nil, err
	}
	reads := now.reads
	shown := page.Shot{Study: now.result.Study, Notes: now.result.Notes}
	flaw := incomplete(now)
	if name := v.earlier(now); name != "" {
		reads = append(reads, name)
		earlier, err := loadShot(ctx, &v.finder, name)
		if err != nil {
			return nil, err
		}
		reads = append(reads, earlier.reads...)
		shown.Before, shown.BeforeNotes = earlier.result.Study, earlier.result.Notes
		if flaw == "" {
			flaw = incomplete(earlier)
		}
	}
	if flaw != "" && v.read.reads != nil && !v.flawed {
		return nil, errors.New(flaw)
	}
	e, err := page.Encode(ctx, &shown)
	if err != nil {
		return nil, err
	}
	v.read = outcome{input: input{path: v.path}, reads: reads, config: now.config}
	v.flawed = flaw != ""
	return e, nil
}

// earlier is the path of the earlier pass, "" for none.
func (v *viewer) earlier(now *shot) string {
	if v.before != "" {
		return v.before
	}
	if name, ok := now.config.Before(v.path); ok {
		if _, err := inputOf(name); err == nil {
			return name
		}
	}
	return ""
}

// incomplete says where and why a file holds less than it should, as one that is
// still being written does; "" when it does not.
func incomplete(s *shot) string {
	for _, n := range s.result.Notes {
		switch scene.ProblemKind(n.Check) {
		case scene.Syntax, scene.PartialExport:
			at := report.Placed(s.result.Study.Scene, []note.Note{n})[0]
			return fmt.Sprintf("%s:%d:%d: %s", at.Path, at.Start.Line, at.Start.Column, report.Visible(n.Message))
		}
	}
	return ""
}

// serve serves the page until the context ends.
func (v *viewer) serve(ctx context.Context) error {
	w, err := fsnotify.NewWatcher()
	if err != nil {
		return fmt.Errorf("changes of files cannot be followed: %w", err)
	}
	defer w.Close()
	// From before it is read, so that no change is missed; that a folder is not
	// there is told when the file in it cannot be read.
	_ = w.Add(filepath.Dir(v.path))
	shown, err := v.load(ctx)
	if err != nil {
		return err
	}
	on, err := page.Listen(v.options.port)
	if err != nil {
		return fmt.Errorf("--port: %w", err)
	}
	v.live.Show(v.title(), shown)
	ctx, end := context.WithCancel(ctx)
	defer end()
	served := make(chan error, 1)
	go func() {
		served <- v.live.Serve(ctx, on)
		end()
	}()
	address := "http://" + on.Addr().String() + "/"
	fmt.Fprintln(v.std.out, address)
	if v.options.open {
		if err := openBrowser(address); err != nil {
			fmt.Fprintf(v.std.err, "curvelint: no browser could be started, %v; open %s\n", err, address)
		}
	}
	err = v.follow(ctx, w)
	end()
	return errors.Join(err, <-served)
}

// follow shows the file again after each change until the context ends.
func (v *viewer) follow(ctx context.Context, w *fsnotify.Watcher) error {
	for {
		if err := follow(w, []string{v.path}, map[string]outcome{v.path: v.read}); err != nil {
			return err
		}
		changed, err := nextChanges(ctx, w)
		if err != nil || len(changed) == 0 {
			return err
		}
		if v.concerned(changed) {
			v.again(ctx)
		}
	}
}

// concerned reports whether the page may look different after changes.
func (v *viewer) concerned(changed map[string]bool) bool {
	if changed[everything] {
		return true
	}
	for path := range changed {
		if filepath.Base(path) == config.FileName || v.options.config != "" && path == absolute(v.options.config) {
			return true
		}
	}
	return slices.ContainsFunc(append(v.read.reads, v.path), func(p string) bool { return changed[absolute(p)] })
}

func (v *viewer) again(ctx context.Context) {
	v.finder.Forget()
	shown, err := v.load(ctx)
	switch {
	case ctx.Err() != nil:
	case err != nil:
		v.live.Fail(err.Error() + "; shown is the last good state.")
	default:
		v.live.Show(v.title(), shown)
	}
}
